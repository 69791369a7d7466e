import { costAgain, type ForetoldAgain, totalAgain } from "./beside-forecast";
import type { ForetoldCost } from "./cost-forecast";
import type { CoverBasis } from "./cover-basis";
import { forecastFrom } from "./cover-forecast";
import type { KeptCost } from "./kept-forecast.schema";
import type { CostForTotal } from "./priced-forecast";
import type { Limits } from "./roll-forward";

/** A revision of which packs were put right after a failure, as a forecast kept it and as it stands today. */
export interface AgainQuestion {
  readonly group: string;
  /** What their next failures were foretold from; null where no pack ran again, undefined where the forecast did not keep it. */
  readonly opening: CoverBasis | null | undefined;
  readonly closing: CoverBasis | null;
  readonly costThen: CostForTotal;
  readonly costNow: CostForTotal;
  /** Packs that ran again then and failed once more since. */
  readonly came: number;
}

/** Packs put right that ran again on a day, and their failures to come until the end of cover with the cost; null what could not be told. */
export interface AgainEnd {
  readonly packs: number;
  readonly failures: (Limits & { readonly expected: number }) | null;
  readonly cost: ForetoldCost | null;
}

export interface RolledAgain {
  readonly group: string;
  /** Null where the forecast did not keep it. */
  readonly opening: AgainEnd | null;
  readonly came: number;
  readonly closing: AgainEnd;
}

export interface RolledAgainOfAll {
  readonly revisions: readonly RolledAgain[];
  readonly total: Omit<RolledAgain, "group">;
}

/**
 * Answers: what was to come again of the packs put right, what came, and what is to come of those that run again today? In no number of the
 * reserve, so beside its steps; it is not led from one end to the other, since packs come to it by each repair and leave it by each end of cover.
 * Limits of all together are of folded distributions. Null where at neither end such a pack runs.
 */
export function rollAgain(questions: readonly AgainQuestion[]): RolledAgainOfAll | null {
  const concerned = questions.filter(({ opening, closing }) => opening != null || closing !== null);
  if (concerned.length === 0) return null;
  const revisions = concerned.map((one) => ({
    group: one.group,
    opening: one.opening === undefined ? null : endOf([then(one)]),
    came: one.came,
    closing: endOf([now(one)]),
  }));
  const kept = concerned.filter(({ opening }) => opening !== undefined);
  return {
    revisions,
    total: {
      opening: kept.length < concerned.length ? null : endOf(kept.map(then)),
      came: concerned.reduce((sum, { came }) => sum + came, 0),
      closing: endOf(concerned.map(now)),
    },
  };
}

/** What a failure was held to cost when a forecast was kept. */
export function costKept(cost: KeptCost | null, currency: string): CostForTotal {
  return cost === null ? { kind: "unknown" } : { kind: "cost", currency, ...cost };
}

interface CostedAgain extends ForetoldAgain {
  readonly cost: CostForTotal;
}

function then({ group, opening, costThen }: AgainQuestion): CostedAgain {
  return { group, again: opening == null ? null : forecastFrom(opening), cost: costThen };
}

function now({ group, closing, costNow }: AgainQuestion): CostedAgain {
  return { group, again: closing === null ? null : forecastFrom(closing), cost: costNow };
}

function endOf(groups: readonly CostedAgain[]): AgainEnd {
  const total = totalAgain(groups, "cover-end");
  return {
    packs: groups.reduce((sum, { again }) => sum + (again?.packsUnderCover ?? 0), 0),
    failures: total === null ? null : { expected: total.expected, lower: total.lower, upper: total.upper },
    cost: costAgain(groups, groups, "cover-end"),
  };
}
