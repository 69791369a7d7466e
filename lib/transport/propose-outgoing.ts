import { isGrave, type SafetyClass } from "@/lib/diagnosis/finding";
import { dangerOf, dangerSigns } from "@/lib/returns/danger-signs";
import type { ConfirmedFault } from "@/lib/returns/decision.schema";
import type { OutgoingLeg } from "./leg";
import { type ClassProposal, classOfSafety, type PackEvidence, proposeClass, safetyVerdicts } from "./propose-class";

/** A pack from stock that goes out in place of a returned one. */
export interface StockPackEvidence {
  readonly kind: "from-stock";
  readonly hasBuildRecord: boolean;
  readonly vibrationPassed: boolean;
  /** It was lodged once itself: what happened to it is not in its build record. */
  readonly wasReturned: boolean;
  /** A customer rode it while waiting for another. */
  readonly wasLent: boolean;
  /** It was sent out before and came back: a carrier had it, or a dealer, and nobody measured it since. */
  readonly wasAway: boolean;
  /** Its flag says to handle it with care, or worse. */
  readonly isFlagged: boolean;
}

/** The returned pack itself, with what was done and found since it came in. */
export interface ReturnedPackEvidence {
  readonly kind: "returned";
  /** What its class on the way in rested on, with what goods-in found. */
  readonly told: PackEvidence;
  readonly isSetApart: boolean;
  /** Its flag says to handle it with care. */
  readonly isCautioned: boolean;
  /** It was repaired, passed the limits of a new build, and a named person released it under the decision that stands. */
  readonly release: { readonly byName: string; readonly on: string } | null;
  /** What was told of it after that release, or goods-in found on it when it came in again: from a carrier, a dealer, a supplier. */
  readonly signsAfterRelease: readonly string[];
  /** Whether every mandatory test of the bench was done and inside its limits. */
  readonly allTestsInside: boolean;
  /** A destructive test was made: the case is not what it was. */
  readonly wasOpened: boolean;
  /** What the decision that stands says was found; null while nothing is decided. */
  readonly confirmedFault: ConfirmedFault | null;
}

export interface OutgoingEvidence {
  readonly leg: OutgoingLeg;
  readonly pack: StockPackEvidence | ReturnedPackEvidence;
}

/**
 * Proposes the class of a pack that leaves the house; a named person declares it, under the same rules as on the way in.
 * A repaired pack that passed the limits of a new build and was released, and a pack in which nothing was found with every
 * test inside its limits, may be sound; a sample never is; whatever was found and not mended is damaged or defective; what
 * nobody can tell is for the dangerous-goods adviser and counts as damaged or worse until then.
 *
 * Source: ADR 2025, special provision 376 (as in `propose-class.ts`): it asks what the battery is before this carriage, not
 * what it was before the last. Which test or release settles a criterion: engineering default.
 */
export function proposeOutgoingClass({ leg, pack }: OutgoingEvidence): ClassProposal {
  return pack.kind === "from-stock" ? ofStockPack(pack) : ofReturnedPack(leg, pack);
}

function ofStockPack({
  hasBuildRecord,
  vibrationPassed,
  wasReturned,
  wasLent,
  wasAway,
  isFlagged,
}: StockPackEvidence): ClassProposal {
  const notDiagnosed = [
    ...(hasBuildRecord ? [] : ["It has no build record: nothing says that it was tested as built."]),
    ...(hasBuildRecord && !vibrationPassed ? ["Its build record holds no passed vibration test."] : []),
    ...(wasReturned ? ["It was returned before: its build record does not say what happened to it since."] : []),
    ...(wasAway
      ? ["It was sent out before and came back: its build record does not say what happened to it since."]
      : []),
    ...(wasLent ? ["It was lent to a customer: its build record does not say what happened to it since."] : []),
  ];
  if (isFlagged) return proposal("B", ["It is marked to be handled with care."], notDiagnosed);
  return notDiagnosed.length > 0
    ? proposal("U", [], notDiagnosed)
    : {
        ...proposal("C", [], []),
        // Nobody diagnosed it and nobody told anything of it: it is as it was built.
        reasons: ["From stock: tested as built, never out of the house, and under no flag."],
      };
}

function ofReturnedPack(leg: OutgoingLeg, pack: ReturnedPackEvidence): ClassProposal {
  const before = proposeClass(pack.told);
  if (pack.isSetApart) return proposal("A1", ["It is set apart for safety."], before.notDiagnosed, before);
  if (leg === "to-supplier")
    return isGrave(before.safetyClass) && pack.release === null
      ? before
      : proposal("B", ["It goes to a supplier because something was found in it."], before.notDiagnosed, before);
  if (pack.release !== null) return ofReleasedPack(pack, pack.release);
  if (isGrave(before.safetyClass)) return before;
  const signs = signsOf(pack, before);
  if (signs.length > 0) return proposal("B", signs, before.notDiagnosed, before);
  const nothingFound = pack.confirmedFault === "no-fault-found" || pack.confirmedFault === "outside-cause";
  if (nothingFound && pack.allTestsInside)
    return proposal(
      "C",
      ["Nothing was found in the pack, and every test of the bench came out inside its limits."],
      [],
    );
  return before;
}

/** What speaks for damage besides the readings, once the pack was in somebody's hands. */
function signsOf(pack: ReturnedPackEvidence, before: ClassProposal): string[] {
  const { confirmedFault, told } = pack;
  const isMended = confirmedFault === null || confirmedFault === "no-fault-found" || confirmedFault === "outside-cause";
  return [
    ...(pack.isCautioned ? ["It is marked to be handled with care."] : []),
    ...(pack.wasOpened ? ["It was opened for a test."] : []),
    ...told.signsInHand,
    ...told.judged,
    ...(before.criteria.includes("use-or-misuse") && told.conditions.includes("after-crash-or-drop")
      ? ["It happened after a crash or a drop."]
      : []),
    ...(isMended ? [] : ["Something was found in it, or nobody knows what, and it is not mended."]),
  ];
}

/** The release answers the findings; an acute event is answered by nobody but the adviser. */
function ofReleasedPack(
  { told, isCautioned, signsAfterRelease }: ReturnedPackEvidence,
  release: NonNullable<ReturnedPackEvidence["release"]>,
): ClassProposal {
  const released = `Repaired; it passed the limits of a new build and was released by ${release.byName} on ${release.on}.`;
  const signs = dangerSigns.filter((sign) => told.dangerSigns.includes(sign));
  const logs = [told.readings?.findings ?? [], ...told.earlierReadings.map(({ findings }) => findings)];
  const isAcuteInLog = logs.flat().some(({ safetyClass }) => safetyClass === "A0");
  if (dangerOf(signs).kind === "keep-away" || isAcuteInLog)
    return proposal(
      "U",
      [released, ...signsAfterRelease],
      [
        `An acute event was ${isAcuteInLog ? "in the log" : "told"} before the repair: the dangerous-goods adviser judges whether it may travel as sound.`,
      ],
    );
  // A release answers nothing that was found after it.
  if (signsAfterRelease.length > 0) return proposal("B", [released, ...signsAfterRelease], []);
  if (isCautioned) return proposal("B", [released, "It is marked to be handled with care."], []);
  const toldBefore =
    signs.length === 0 ? [] : ["Signs of danger were told before the repair: look at each criterion anew."];
  return proposal("C", [released, ...toldBefore], []);
}

function proposal(
  safetyClass: SafetyClass,
  reasons: readonly string[],
  notDiagnosed: readonly string[],
  before?: ClassProposal,
): ClassProposal {
  return {
    transportClass: classOfSafety(safetyClass),
    safetyClass,
    reasons: [safetyVerdicts[safetyClass], ...reasons, ...notDiagnosed],
    notDiagnosed,
    criteria: before?.criteria ?? [],
  };
}
