import { LifeTally } from "@/lib/stats/life-tally";
import { type ExclusionReason, exposureOf, type LifeDates } from "./exposure";
import { firstEventPerSerial, type UnitHistory } from "./first-event";

/** Several packs of one revision with exactly the same dates, as a database can group them. */
export interface EqualPacks extends LifeDates {
  readonly revisionCode: string;
  readonly packs: number;
}

export interface RevisionTally {
  readonly lives: LifeTally;
  /** Packs with counted exposure. */
  inService: number;
  failures: number;
  undecidedReturns: number;
  /** Packs with any return told by the data date: decided either way or open, excluded packs included. */
  returns: number;
  readonly excluded: Map<ExclusionReason, number>;
}

/**
 * Counts histories into one tally per revision. Single packs carry their serial, so that none counts twice; packs
 * without returns may come grouped, so that the cost follows the number of distinct dates and not of packs.
 */
export function tallyRevisions(
  histories: Iterable<UnitHistory>,
  equalPacks: Iterable<EqualPacks> = [],
): Map<string, RevisionTally> {
  const byRevision = new Map<string, RevisionTally>();
  const { kept, repeated } = firstEventPerSerial(histories);
  for (const history of kept) count(tallyFor(byRevision, history.revisionCode), history, 1);
  for (const group of equalPacks) count(tallyFor(byRevision, group.revisionCode), group, group.packs);
  for (const { revisionCode } of repeated) exclude(tallyFor(byRevision, revisionCode), "serial-twice", 1);
  return byRevision;
}

export function emptyRevisionTally(): RevisionTally {
  return { lives: new LifeTally(), inService: 0, failures: 0, undecidedReturns: 0, returns: 0, excluded: new Map() };
}

function tallyFor(byRevision: Map<string, RevisionTally>, revisionCode: string): RevisionTally {
  const known = byRevision.get(revisionCode);
  if (known !== undefined) return known;
  const tally = emptyRevisionTally();
  byRevision.set(revisionCode, tally);
  return tally;
}

function count(tally: RevisionTally, dates: LifeDates, packs: number): void {
  if (wasReturned(dates)) tally.returns += packs;
  const exposure = exposureOf(dates);
  if (exposure.kind === "excluded") {
    exclude(tally, exposure.reason, packs);
    return;
  }
  const failed = exposure.status === "failed";
  tally.lives.add(exposure.entryDays, exposure.exitDays, failed, packs);
  tally.inService += packs;
  if (failed) tally.failures += packs;
  if (exposure.status === "undecided") tally.undecidedReturns += packs;
}

function wasReturned({ failure, openReturnToldOn, dataDate }: LifeDates): boolean {
  return [failure?.toldOn ?? null, openReturnToldOn].some((toldOn) => toldOn !== null && toldOn <= dataDate);
}

function exclude(tally: RevisionTally, reason: ExclusionReason, packs: number): void {
  tally.excluded.set(reason, (tally.excluded.get(reason) ?? 0) + packs);
}
