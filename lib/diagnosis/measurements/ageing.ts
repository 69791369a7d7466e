import { coarseDoubt, doubtfulCurrent } from "@/lib/diagnosis/doubtful-current";
import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Measurement } from "@/lib/diagnosis/finding";
import { heldBetweenRests, weakGroups } from "@/lib/diagnosis/held-between-rests";
import { lackingCurrent } from "@/lib/diagnosis/missing-current";
import { ownCounter } from "@/lib/diagnosis/own-counter";
import { whyNoCapacity } from "@/lib/diagnosis/rules/weak-cell";
import { stateOfHealth } from "@/lib/diagnosis/state-of-health";
import { inDigits, inTime, namedGroups } from "@/lib/diagnosis/wording";
import { coulombicEfficiency } from "@/lib/readings/measure/coulombic-efficiency";
import { energyThroughput } from "@/lib/readings/measure/energy-throughput";
import { sampledChargeErrorAh } from "@/lib/readings/measure/sampled-charge";

/** What the pack still holds, what it gives back of a charge, and what has gone through it. */
export function ageingMeasurements(evidence: Evidence): Measurement[] {
  const counted = evidence.directionKnown ? [...efficiency(evidence), ...energy(evidence)] : [];
  return [...health(evidence), ...counted];
}

export interface FoundCapacity {
  readonly foundAh: number;
  readonly foundErrorAh: number;
  readonly how: string;
}

/** A full discharge at a mild load and warm tells the pack's capacity; else what its groups hold between two rests, void readings left out. */
export function foundCapacity(evidence: Evidence): FoundCapacity | null {
  const { fullDischarge, settings } = evidence;
  const gainDoubt = settings.measure.currentGainShare;
  if (fullDischarge !== null && whyNoCapacity(evidence, fullDischarge) === null) {
    const foundAh = fullDischarge.capacityAh;
    const how = `full discharge at ${inDigits(-fullDischarge.meanCurrentA, 1)} A mean`;
    return { foundAh, foundErrorAh: gainDoubt * foundAh, how };
  }
  // The Ah between two rests are counted by the same sensor.
  if (doubtfulCurrent(evidence)?.isSensor) return null;
  const pack = heldBetweenRests(evidence);
  if (pack === null) return null;
  const weak = weakGroups(evidence);
  const foundErrorAh = Math.hypot(pack.groupErrorAh, gainDoubt * pack.groupAh, sampledShare(evidence) * pack.groupAh);
  const whose = weak.size === 0 ? "middle group" : `weak ${namedGroups([...weak])}`;
  return { foundAh: pack.groupAh, foundErrorAh, how: `${whose} between two rests` };
}

/** What rows too far apart for the load leave open of the charge between the two rests, as a share of it. */
function sampledShare({ restCapacity, survey }: Evidence): number {
  if (restCapacity === null) return 0;
  const { from, to, movedAh } = restCapacity;
  return sampledChargeErrorAh(survey, from.endRow, to.endRow) / movedAh;
}

function health(evidence: Evidence): Measurement[] {
  const found = foundCapacity(evidence);
  if (found === null) return [];
  const { model } = evidence;
  const rated = model.ratedCapacityAh;
  const counted = ownCounter(evidence);
  const cycles = counted === null || counted.doubt !== null ? null : counted.cycles;
  const { cyclesTo80Percent } = model;
  const { share, expected: band } = stateOfHealth({ ...found, builtAh: rated, cycles, cyclesTo80Percent });
  const expected =
    band === null
      ? `no cycle count ${counted === null ? "was logged" : "can be believed"}, so no expectation`
      : `expected at ${inDigits(cycles ?? 0, 0)} cycles by its own counter: ${inDigits(band[0] * 100, 0)} to ${inDigits(band[1] * 100, 0)} %`;
  return [
    {
      name: "state-of-health",
      group: null,
      value: share * 100,
      unit: "%",
      uncertainty: (found.foundErrorAh / rated) * 100,
      method: "capacity found over rated capacity",
      conditions: `${found.how}; ${expected}; neither temperature nor rate corrected`,
    },
  ];
}

function efficiency({ survey, curve }: Evidence): Measurement[] {
  const loop = curve?.source === "pack model" ? coulombicEfficiency(survey, curve) : null;
  if (loop === null) return [];
  const seconds = (survey.log.timeS[loop.toRow] ?? 0) - (survey.log.timeS[loop.fromRow] ?? 0);
  return [
    {
      name: "coulombic-efficiency",
      group: null,
      value: loop.efficiency,
      unit: "1",
      uncertainty: loop.error,
      method: "charge out and change of stored charge over charge in, between two rests at nearly the same voltage",
      conditions: `${inDigits(loop.chargedAh, 1)} Ah in, ${inDigits(loop.dischargedAh, 1)} Ah out, stored change ${inDigits(loop.storedPercent, 1)} % of charge, ${inTime(seconds)}; outside 0.97 to 1.01 the sensor is in question first`,
    },
  ];
}

function energy({ survey, settings }: Evidence): Measurement[] {
  const found = energyThroughput(survey);
  if (found === null) return [];
  const lacking = lackingCurrent(survey);
  const sampled = Math.hypot(settings.measure.currentGainShare, coarseDoubt * found.coarseShare);
  const doubt = lacking.doubtShare === null ? null : Math.hypot(sampled, lacking.doubtShare);
  const one = (name: string, value: number): Measurement => ({
    name,
    group: null,
    value,
    unit: "Wh",
    uncertainty: doubt === null ? null : doubt * value,
    method: `trapezoid of ${found.from} times current`,
    conditions: `this log only, gaps not bridged; ${inDigits(found.coarseShare * 100, 0)} % of it in steps where the load changed by more than half${lacking.words}`,
  });
  return [one("energy-charged", found.chargedWh), one("energy-discharged", found.dischargedWh)];
}
