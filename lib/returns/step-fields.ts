import type { DecidableRemedy } from "./decision.schema";
import { confirmedFaults, decidableRemedies, sayConfirmedFault } from "./decision.schema";
import type { MoveName } from "./move-names";
import type { KnownFacts, StatedFacts } from "./return-facts";

/** One question of the form of a move, besides the reason. */
export interface StepField {
  readonly key: keyof StatedFacts;
  readonly label: string;
  readonly kind: "text" | "day" | "scan" | "yes" | "choice";
  readonly choices?: readonly { readonly value: string; readonly label: string }[];
  /** The fact that makes the question superfluous where another part of the program knows it. */
  readonly unless?: keyof KnownFacts;
  /** Asked of the house alone: a dealer's own word is the answer. */
  readonly onlyForHouse?: true;
  /** The decisions the question belongs to; with any other it is not asked. */
  readonly onlyFor?: readonly DecidableRemedy[];
}

/** With money or a disposal nothing is carried to anybody. */
const ofCarried = {
  onlyForHouse: true,
  onlyFor: decidableRemedies.filter((remedy) => remedy !== "refund" && remedy !== "dispose"),
} as const;

/** What the form of each move asks. A move that is not here asks for nothing but, where the table says so, a reason. */
const fields: Readonly<Partial<Record<MoveName, readonly StepField[]>>> = {
  ask: [{ key: "dueOn", label: "Answer wanted by", kind: "day" }],
  help: [{ key: "logWasAskedFor", label: "I have asked for the readings", kind: "yes", unless: "hasReadings" }],
  "start-test": [
    {
      key: "quarantineMet",
      label: "The quarantine time is over and every re-measurement was made",
      kind: "yes",
      unless: "quarantineMet",
    },
  ],
  approve: [
    {
      key: "noticesGiven",
      label: "The notices that the place of sale asks for were shown and answered",
      kind: "yes",
      unless: "noticesGiven",
    },
  ],
  "solve-remotely": [
    {
      key: "noticesGiven",
      label: "The notices that the place of sale asks for were shown and answered",
      kind: "yes",
      unless: "noticesGiven",
    },
    {
      key: "confirmedFault",
      label: "Which fault was found?",
      kind: "choice",
      choices: confirmedFaults.map((value) => ({ value, label: sayConfirmedFault(value) })),
    },
  ],
  "start-work": [
    { key: "partsAndPlan", label: "Parts and plan", kind: "text", onlyFor: ["repair", "dispose"] },
    {
      key: "reservedSerial",
      label: "Serial of the pack from stock to keep",
      kind: "scan",
      onlyFor: ["replace"],
      unless: "reservedSerial",
    },
  ],
  "ready-without-work": [
    { key: "packIsSafe", label: "I have made sure that the pack is safe to give back", kind: "yes" },
  ],
  "finish-work": [
    { key: "releaseSignature", label: "Released by (full name)", kind: "text", unless: "isReleased" },
    {
      key: "takenAwayBy",
      label: "Where it was taken away at the dealer's: by whom, and under which paper",
      kind: "text",
      onlyFor: ["dispose"],
      unless: "isReleased",
    },
  ],
  "give-letter": [{ key: "letterGivenOn", label: "On which day the customer got it", kind: "day" }],
  "hand-back": [
    { key: "outgoingSerial", label: "Scan the serial of the pack that is handed over", kind: "scan" },
    { key: "deliveryProof", label: "Who delivered it, under which consignment number", kind: "text", ...ofCarried },
    { key: "deliveredOn", label: "On which day it was delivered", kind: "day", ...ofCarried },
  ],
  close: [
    {
      key: "remedyDelivered",
      label: "The customer has what was decided",
      kind: "yes",
      unless: "remedyDelivered",
    },
    { key: "moneySettled", label: "All money is settled, or nothing is owed", kind: "yes", unless: "moneySettled" },
  ],
  merge: [{ key: "duplicateOf", label: "Reference of the other return", kind: "scan" }],
};

/** The questions of a move's form that nobody in the program can answer. */
export function fieldsOf(
  name: MoveName,
  known: KnownFacts,
  decided: DecidableRemedy | null,
  isHouse = true,
): StepField[] {
  return (fields[name] ?? []).filter(
    ({ unless, onlyFor, onlyForHouse }) =>
      (onlyForHouse === undefined || isHouse) &&
      (unless === undefined || known[unless] === null || known[unless] === false) &&
      (onlyFor === undefined || (decided !== null && onlyFor.includes(decided))),
  );
}
