import { type KaplanMeierCurve, kaplanMeier } from "@/lib/stats/kaplan-meier";
import type { LagWeightedCurve } from "@/lib/stats/lag-weighted-survival";
import type { CompareBy } from "./compare-by";
import type { ExclusionReason } from "./exposure";
import { type FailureCurvePoint, failureCurve, middlesOfDays } from "./failure-curve";
import { type FailureEstimate, failureEstimate } from "./failure-estimate";
import { groupSentence } from "./group-sentence";
import { countCells, type LifeTable, outcomeOfCell, sumPacks } from "./life-cell";
import { mayHaveFailed } from "./may-have-failed";
import { cellsOfGroups } from "./mixed-lots";
import { MILESTONE_MONTHS } from "./months-in-service";
import { allowanceOf, type Reporting, reportingAt } from "./reporting";
import { knownAtOnce } from "./reporting-lag";
import { FAILED_AFTER_COVER } from "./tally-lives";
import { correctedShares } from "./visible-estimate";
import { visibleAtRisk } from "./visible-exposure";

export interface GroupReport {
  readonly group: string;
  readonly packsBuilt: number;
  readonly packsDispatched: number;
  /** Packs that have been in use and watched for at least a day: what all probabilities here rest on. */
  readonly packsInService: number;
  readonly failures: number;
  readonly undecidedReturns: number;
  /** Packs found faulty after the end of their cover: counted here and in no estimate. */
  readonly failedAfterCover: number;
  readonly excluded: readonly { readonly reason: ExclusionReason; readonly packs: number }[];
  /** Share failed by 3, 6, 12 and 24 months in use. */
  readonly estimates: readonly FailureEstimate[];
  /** The same with what is on its way or undecided allowed for: what is said first. The plain ones where no delay is known. */
  readonly headline: readonly FailureEstimate[];
  readonly lagCorrected: LagWeightedCurve;
  readonly allReturns: ReturnLine;
  readonly naive: NaiveReturnRatio;
  readonly sentence: string;
  /** The curve of the shares that are said first, with their limits: what is drawn. */
  readonly points: readonly FailureCurvePoint[];
  /** Share confirmed so far to have failed, as steps; null where nothing is allowed for and the curve says the same. */
  readonly confirmedSoFar: readonly ConfirmedPoint[] | null;
  /** The survival curve itself, for the row of numbers at risk and for comparisons. */
  readonly curve: KaplanMeierCurve;
}

export interface ConfirmedPoint {
  readonly ageDays: number;
  readonly probability: number;
}

/** The first return of each pack within cover, whatever came of it. */
export interface ReturnLine {
  readonly returns: number;
  /** Of these: nobody has decided yet, or the fault stayed unknown. */
  readonly unclassified: number;
  /** Of these: no fault of the pack was found. */
  readonly notConfirmed: number;
  readonly estimates: readonly FailureEstimate[];
  /** Share that came back by the same ages for the first time with what is or may be a failure: confirmed, undecided or unclassified. */
  readonly mayHaveFailed: readonly FailureEstimate[];
  readonly curve: KaplanMeierCurve;
}

/**
 * Returns divided by dispatched packs, shown only so that a reader who knows it from elsewhere sees what is wrong with
 * it: it mixes packs of all ages, counts stock as survivors and no-fault-found returns as failures, and always
 * flatters the newest revision.
 */
export interface NaiveReturnRatio {
  readonly returns: number;
  readonly dispatched: number;
  /** null where nothing was dispatched. */
  readonly ratio: number | null;
}

/**
 * Answers for each group: how many packs are out there, how many failed, and which share fails by equal ages.
 *
 * Estimated from the counts of equal lives by Kaplan-Meier with 95 % limits, so that the cost does not grow with the
 * number of packs. Reports come in the order of `groups`; one without packs is a report of noughts.
 */
export function groupReports(
  by: CompareBy,
  groups: readonly string[],
  table: LifeTable,
  reporting: Reporting = knownAtOnce,
): GroupReport[] {
  const cells = cellsOfGroups(table, table.cells);
  const excluded = cellsOfGroups(table, table.excluded);
  return groups.map((group) =>
    groupReport(by, group, { cells: cells.get(group) ?? [], excluded: excluded.get(group) ?? [] }, reporting),
  );
}

/** The same for one group, given its own cells alone. */
export function groupReport(
  by: CompareBy,
  group: string,
  { cells, excluded }: LifeTable,
  reporting: Reporting = knownAtOnce,
): GroupReport {
  const confirmed = cells.filter(({ line }) => line === "confirmed");
  const inService = sumPacks(confirmed);
  const { curve, estimates, headline, lagCorrected } = correctedShares(confirmed, reporting);
  const undecidedReturns = sumPacks(confirmed.filter(({ status }) => status === "undecided"));
  const dispatched =
    sumPacks(confirmed.filter((cell) => cell.dispatched)) + sumPacks(excluded.filter((cell) => cell.dispatched));
  const allReturns = returnLine(cells);
  const allowance = allowanceOf(reportingAt(reporting, group));
  const drawn =
    allowance === null ? null : { lagCorrected, visible: visibleAtRisk(confirmed, middlesOfDays(curve), reporting) };
  return {
    group,
    packsBuilt: inService + sumPacks(excluded),
    packsDispatched: dispatched,
    packsInService: inService,
    failures: curve.failures,
    undecidedReturns,
    failedAfterCover: sumPacks(confirmed.filter(({ detail }) => detail === FAILED_AFTER_COVER)),
    excluded: byReason(excluded),
    estimates,
    headline,
    lagCorrected,
    allReturns,
    naive: {
      returns: allReturns.returns,
      dispatched,
      ratio: dispatched > 0 ? allReturns.returns / dispatched : null,
    },
    sentence: groupSentence({
      by,
      group,
      inService,
      failures: curve.failures,
      undecidedReturns,
      estimates: headline,
      allowance,
    }),
    points: failureCurve(curve, drawn),
    confirmedSoFar: allowance === null ? null : confirmedPoints(curve),
    curve,
  };
}

function confirmedPoints({ steps, lastAge }: KaplanMeierCurve): ConfirmedPoint[] {
  const failed = steps.map(({ age, survival }) => ({ ageDays: age, probability: 1 - survival }));
  return [
    { ageDays: 0, probability: 0 },
    ...failed,
    { ageDays: lastAge, probability: failed.at(-1)?.probability ?? 0 },
  ];
}

function returnLine(cells: LifeTable["cells"]): ReturnLine {
  const returned = cells.filter(({ status }) => status === "returned");
  const curve = kaplanMeier(countCells(cells, "any-return"));
  const of = (outcomes: readonly string[]) =>
    sumPacks(returned.filter((cell) => outcomes.includes(outcomeOfCell(cell))));
  return {
    returns: sumPacks(returned),
    unclassified: of(["undecided", "unclassified"]),
    notConfirmed: of(["not-confirmed"]),
    estimates: MILESTONE_MONTHS.map((months) => failureEstimate(curve, months)),
    mayHaveFailed: mayHaveFailed(cells, curve),
    curve,
  };
}

function byReason(excluded: LifeTable["excluded"]): GroupReport["excluded"] {
  const packsByReason = new Map<ExclusionReason, number>();
  for (const { reason, packs } of excluded) packsByReason.set(reason, (packsByReason.get(reason) ?? 0) + packs);
  return [...packsByReason].map(([reason, packs]) => ({ reason, packs }));
}
