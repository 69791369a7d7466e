import { type StockPackFacts, type StockRefusal, whyItStaysInStock } from "./stock-pack";

/** What is known of a pack somebody wants to hand out in place of a returned one. */
export interface UnitFacts extends StockPackFacts {
  readonly revisionCode: string;
  readonly hasBuildRecord: boolean;
  readonly vibrationPassed: boolean;
  /** It never left the store for good. */
  readonly isInStore: boolean;
  /** A customer rode it while waiting for another: it is a used pack since. */
  readonly wasLent: boolean;
  /** It stands earlier in the chain of the returned pack. */
  readonly wentBefore: boolean;
  /** Reference of another return it is kept for; null where for none. */
  readonly keptFor: string | null;
}

export interface UnitWanted {
  /** The revision that was decided; null where nothing was. */
  readonly revisionCode: string | null;
  /** Whether that revision may replace the returned pack today. */
  readonly mayReplaceToday: boolean;
}

export type UnitRefusal =
  | StockRefusal
  | "unit-unknown"
  | "would-close-a-loop"
  | "is-not-in-store"
  | "was-lent"
  | "is-kept-for-another"
  | "nothing-decided"
  | "is-another-revision"
  | "may-not-replace"
  | "has-no-build-record"
  | "failed-its-test";

export interface RefusedUnit {
  readonly why: UnitRefusal;
  readonly sentence: string;
}

/** Why a pack may not go out in place of a returned one, in words for the field it was typed in; null where it may. */
export function whyUnitMayNotGo(unit: UnitFacts | null, wanted: UnitWanted): RefusedUnit | null {
  const refused = (why: UnitRefusal, sentence: string): RefusedUnit => ({ why, sentence });
  if (unit === null)
    return refused("unit-unknown", "No pack with this serial is known. Compare it with the label once more.");
  if (unit.wentBefore && !unit.isReturnedPack)
    return refused(
      "would-close-a-loop",
      "This pack stood before the returned one at the same customer: the chain would lead back to it.",
    );
  const stays = whyItStaysInStock(unit);
  if (stays !== null && stays.why !== "is-stopped") return stays;
  if (!unit.isInStore)
    return refused(
      "is-not-in-store",
      "This pack left the store before. Have it taken back into stock, or take another.",
    );
  // A used pack replaces one only at the explicit request of the customer: Directive (EU) 2019/771 as amended (from memory: verify).
  if (unit.wasLent)
    return refused("was-lent", "This pack was lent to a customer before, so it is a used one. It may be lent again.");
  if (unit.keptFor !== null)
    return refused("is-kept-for-another", `This pack is kept for ${unit.keptFor}. Take another.`);
  if (wanted.revisionCode === null) return refused("nothing-decided", "No replacement is decided on this return.");
  if (unit.revisionCode !== wanted.revisionCode)
    return refused(
      "is-another-revision",
      `This pack is of revision ${unit.revisionCode}; decided was ${wanted.revisionCode}.`,
    );
  if (!wanted.mayReplaceToday)
    return refused("may-not-replace", `${unit.revisionCode} may not replace the returned pack today.`);
  if (stays !== null) return stays;
  if (!unit.hasBuildRecord)
    return refused("has-no-build-record", "No build record is on file for this pack, so nobody knows that it passed.");
  if (!unit.vibrationPassed)
    return refused("failed-its-test", "This pack did not pass the vibration test when it was built.");
  return null;
}
