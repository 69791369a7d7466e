import type { PackModel } from "@/lib/packs/pack-model";

/** Triggers. Engineering defaults unless a source is named. */
export interface AbuseGates {
  /** V. "Should not be discharged below 2.50 V/cell" (cell data sheets); lower where the model's own limit is and its cells are no layered oxide. */
  readonly overDischargeV: number;
  /** V. Copper of the anode collector is reported to dissolve when held below (Sci. Rep. 6:30248; akori.fr for the figure). Lower where the model's own limit is. */
  readonly deepV: number;
  /** s below it at rest or under a small load: under a larger one, or for less, it is an over-discharge and no deep one. */
  readonly deepS: number;
  /** 1/h. Load over rated capacity under which a group sags by no more than some millivolts, so that it counts as at rest there. */
  readonly deepLoadPerHour: number;
  /** V. One reading below it counts, however short (from memory: copper is held to have dissolved). */
  readonly lethalV: number;
  /**
   * V. Charge limit from which cells are taken for layered oxide or cobalt, for which the figures above hold whatever the model's own
   * limit, and the discharge limit under which they are not, whatever they are charged to: sodium-ion is used down to 1.5 V.
   */
  readonly layeredFromV: number;
  readonly layeredLeastV: number;
  /** V under the model's own discharge limit: a load may sag so far below it where it ends, and a cell of another chemistry is over-discharged there. */
  readonly overBelowLimitV: number;
  /** V under the model's own discharge limit where a cell of another chemistry is deeply discharged, and past saving. */
  readonly deepBelowLimitV: number;
  readonly lethalBelowLimitV: number;
  /** V above the model's charge limit. */
  readonly overVoltageV: number;
  /** V above the model's charge limit from which even seconds count: 4.35 V for a cell charged to 4.2 V. */
  readonly criticalOverV: number;
  /** s above either limit that count; where rows lie further apart, one row that the pack voltage bears out. */
  readonly overVoltageS: number;
  /** K above the model's charge window; below it there is no margin. */
  readonly temperatureMarginK: number;
  /** degC. */
  readonly hotC: number;
  /** degC and % of charge: so warm while so full for long ages cells, without being too hot. */
  readonly hotFullC: number;
  readonly hotFullPercent: number;
  /** Share over a rated current. */
  readonly overCurrent: number;
  /** V over groups · charge limit at which a pack held by its charger shows a wrong charger. */
  readonly chargerExcessV: number;
  /** V of the median group and s of rest that make "stored empty", and % of charge that does as well. */
  readonly emptyV: number;
  readonly emptyPercent: number;
  readonly emptyS: number;
}

export interface DischargeLimits {
  /** V of a group that is over-discharged, at rest and under a small load. */
  readonly overV: number;
  /** V of the same under a larger load: no higher than where the model's own limit would let a ride end. */
  readonly overUnderLoadV: number;
  readonly deepV: number;
  readonly lethalV: number;
}

/**
 * The figures hold for layered oxide, told by its limits, and for whatever ends at 2.5 V and more; cells of another kind with a
 * lower limit are used down to it, so theirs lie below it.
 */
export function dischargeLimits(
  { cellMinV, cellMaxV }: Pick<PackModel, "cellMinV" | "cellMaxV">,
  gates: AbuseGates,
): DischargeLimits {
  const overUnderLoadV = Math.min(gates.overDischargeV, cellMinV - gates.overBelowLimitV);
  if (cellMaxV >= gates.layeredFromV && cellMinV >= gates.layeredLeastV)
    return { overV: gates.overDischargeV, overUnderLoadV, deepV: gates.deepV, lethalV: gates.lethalV };
  return {
    overV: overUnderLoadV,
    overUnderLoadV,
    deepV: Math.min(gates.deepV, cellMinV - gates.deepBelowLimitV),
    lethalV: Math.min(gates.lethalV, cellMinV - gates.lethalBelowLimitV),
  };
}

export const defaultAbuseGates: AbuseGates = {
  overDischargeV: 2.5,
  deepV: 2,
  deepS: 3600,
  deepLoadPerHour: 0.1,
  layeredFromV: 4,
  layeredLeastV: 2,
  overBelowLimitV: 0.1,
  deepBelowLimitV: 0.3,
  lethalBelowLimitV: 0.5,
  lethalV: 1.5,
  overVoltageV: 0.05,
  criticalOverV: 0.15,
  overVoltageS: 5,
  temperatureMarginK: 1,
  hotC: 60,
  hotFullC: 45,
  hotFullPercent: 90,
  overCurrent: 1.1,
  chargerExcessV: 0.5,
  emptyV: 3,
  emptyPercent: 5,
  emptyS: 14 * 86400,
};
