/** A known issue that keeps a pack from going out, by its title. */
export interface StopOnUnit {
  readonly title: string;
  /** Set where one lot is stopped, not the whole revision. */
  readonly lotCode: string | null;
}

/** What is known of a pack somebody wants to hand out in place of a returned one. */
export interface UnitFacts {
  readonly revisionCode: string;
  readonly hasBuildRecord: boolean;
  readonly vibrationPassed: boolean;
  /** It never left the store. */
  readonly isInStore: boolean;
  readonly wasSold: boolean;
  /** It came to a customer as a replacement itself. */
  readonly cameAsReplacement: boolean;
  readonly wasReplaced: boolean;
  readonly isReturnedPack: boolean;
  /** It stands earlier in the chain of the returned pack. */
  readonly wentBefore: boolean;
  readonly hasOpenReturn: boolean;
  readonly isSetApart: boolean;
  readonly isOnHold: boolean;
  readonly isLent: boolean;
  /** Reference of another return it is kept for; null where for none. */
  readonly keptFor: string | null;
  /** Open stops and field actions its revision or one of its lots lies under. */
  readonly stops: readonly StopOnUnit[];
}

export interface UnitWanted {
  /** The revision that was decided; null where nothing was. */
  readonly revisionCode: string | null;
  /** Whether that revision may replace the returned pack today. */
  readonly mayReplaceToday: boolean;
}

export type UnitRefusal =
  | "unit-unknown"
  | "is-returned-pack"
  | "would-close-a-loop"
  | "is-in-service"
  | "was-replaced"
  | "is-not-in-store"
  | "is-in-a-return"
  | "is-set-apart"
  | "is-on-hold"
  | "is-lent"
  | "is-kept-for-another"
  | "nothing-decided"
  | "is-another-revision"
  | "may-not-replace"
  | "is-stopped"
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
  if (unit.isReturnedPack) return refused("is-returned-pack", "This is the returned pack itself. Take one from stock.");
  if (unit.wentBefore)
    return refused(
      "would-close-a-loop",
      "This pack stood before the returned one at the same customer: the chain would lead back to it.",
    );
  if (unit.wasReplaced) return refused("was-replaced", "This pack was replaced itself, so it is no pack from stock.");
  if (unit.wasSold || unit.cameAsReplacement)
    return refused("is-in-service", "This pack is in service: it was sold or given out before.");
  if (!unit.isInStore)
    return refused(
      "is-not-in-store",
      "This pack left the store before. Have it taken back into stock, or take another.",
    );
  if (unit.hasOpenReturn) return refused("is-in-a-return", "A return of this pack is open.");
  if (unit.isSetApart) return refused("is-set-apart", "This pack is set apart for safety.");
  if (unit.isOnHold) return refused("is-on-hold", "A legal hold lies on this pack.");
  if (unit.isLent) return refused("is-lent", "This pack is lent out.");
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
  const [stop] = unit.stops;
  if (stop !== undefined) return refused("is-stopped", sayStop(stop));
  if (!unit.hasBuildRecord)
    return refused("has-no-build-record", "No build record is on file for this pack, so nobody knows that it passed.");
  if (!unit.vibrationPassed)
    return refused("failed-its-test", "This pack did not pass the vibration test when it was built.");
  return null;
}

export function sayStop({ title, lotCode }: StopOnUnit): string {
  return lotCode === null
    ? `This pack must not go out: ${title}.`
    : `This pack holds lot ${lotCode}, which is stopped: ${title}.`;
}
