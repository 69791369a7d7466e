import { z } from "zod";
import { readSerial } from "@/lib/packs/serial";
import { confirmedFaults } from "./decision.schema";
import type { OutgoingRefusal } from "./outgoing-refusal";

const said = z.stringbool().or(z.boolean());
const text = (most: number) => z.string().trim().min(1).max(most);
/** In its canonical form where it can be read as a serial; else as typed, which then matches no pack. */
const serial = text(40).transform((typed) => {
  const reading = readSerial(typed);
  return reading.kind === "serial" ? String(reading.serial) : typed;
});
const day = z.iso.date("Give the day as year, month and day.");

/**
 * What a move may state besides its reason. Where another part of the program knows a fact, its word counts
 * (`KnownFacts`) and the statement is not asked for; a statement is kept in the history as somebody's word.
 */
export const statedFactsSchema = z
  .object({
    /** Day by which the dealer is asked to answer. */
    dueOn: day,
    /** Day of delivery to the first customer, as a proof of purchase shows it that came later. */
    provenSoldOn: day,
    /** Days on other proofs, where one was chosen among several that were read. */
    chosenAgainst: z.array(day).min(1).max(20),
    /** SHA-256 of the readings that were added. */
    readings: z.string().regex(/^[0-9a-f]{64}$/),
    /** Serial read off the pack that really arrived. */
    scannedSerial: serial,
    mismatchNote: text(500),
    quarantineMet: said,
    tests: z.enum(["done", "waived"]),
    testsWaivedBecause: text(500),
    partsAndPlan: text(500),
    reservedSerial: serial,
    releaseSignature: text(120),
    /** Who took a pack away that is disposed of at the dealer's, and under which paper. */
    takenAwayBy: text(500),
    outgoingSerial: serial,
    /** Day on which the customer got the letter of the decision, in the hand or by post. */
    letterGivenOn: day,
    /** Day on which what goes out was delivered, and who says so, where it is not the dealer who confirms it. */
    deliveredOn: day,
    deliveryProof: text(500),
    packIsSafe: said,
    remedyDelivered: said,
    moneySettled: said,
    noticesGiven: said,
    logWasAskedFor: said,
    duplicateOf: text(20),
    /** What was found, where a return is solved from a distance. */
    confirmedFault: z.enum(confirmedFaults, "Choose the fault that was found; “unknown” is a fair answer."),
  })
  .partial();

export type StatedFacts = z.output<typeof statedFactsSchema>;
export type StatedFactsInput = z.input<typeof statedFactsSchema>;

/**
 * What other parts of the program know about a return, read in the transaction of the move. Null: nobody keeps it, so
 * whoever moves has to state it. `lib/data/returns/known-facts.ts` is the one place where these are filled.
 */
export interface KnownFacts {
  /** The class a named person declared; "do-not-ship" shuts the way. */
  readonly transportClass: string | null;
  /** The rules that the class was declared under are those in force. */
  readonly rulesStand: boolean;
  /** Nothing known today asks for a stricter class than was proposed when the one that counts was declared. */
  readonly evidenceStands: boolean;
  /** The pack is held or set apart by what this person may not read: told at another dealer's, say. */
  readonly isHeldUnseen: boolean;
  readonly labelPrinted: boolean;
  /** Packing checklist ticked by a named person, and the packed box photographed open and closed. */
  readonly packedAsTold: boolean;
  /** The pack was recorded at goods-in, in the same transaction: nothing else receives it. */
  readonly hasArrived: boolean;
  /** It was settled at goods-in, in the same transaction, that the pack which came in is another one. */
  readonly wasAnotherPack: boolean;
  /** A photograph of a proof of purchase was kept that no answer on cover rests on yet. */
  readonly hasProof: boolean;
  /** A readings file of this pack was read that belongs to no return yet, and is named with the move. */
  readonly hasNewReadings: boolean;
  /** Why the pack that goes out may not be given to a carrier yet: class, label, checklist and photographs of the way out. */
  readonly outgoing: OutgoingRefusal | null;
  /** Instant at which the permission to send ends. */
  readonly sendingEndsAt: string | null;
  /** The waiting time of the quarantine slot is over and every re-measurement was made. */
  readonly quarantineMet: boolean | null;
  readonly tests: "done" | "waived" | "open" | null;
  /** Serial of the pack from stock that is kept for this return. */
  readonly reservedSerial: string | null;
  /** The fault on its four levels; whether it says that nothing was found in the pack. */
  readonly faultCoding: "missing" | "set" | "set-nothing-found";
  /** What was tried before anybody may say that no fault was found; "showed" where the complaint showed after all. */
  readonly noFaultProtocol: "open" | "showed" | "done" | "waived";
  /** A named person who did none of the work released the repaired pack after it passed the limits of a new build. */
  readonly isReleased: boolean | null;
  /** The unit kept ready as replacement lies under a stop or a frozen set. */
  readonly outgoingIsStopped: boolean | null;
  /** Every notice the law of the place of sale asks for was shown and answered. */
  readonly noticesGiven: boolean | null;
  /** The customer has what was decided: handed back, received, or the refund paid. */
  readonly remedyDelivered: boolean | null;
  /** The refund is agreed with the customer, or paid. */
  readonly refundIsAgreed: boolean;
  /** Currency in which money went back under this complaint before; null where none did. */
  readonly refundPaidIn: string | null;
  /** Serial of the last pack handed over in place of the returned one under this complaint; null where none was. */
  readonly unitGiven: string | null;
  /** Day by which something the customer was given before is to be back; null where nothing is awaited. */
  readonly awaitedBackBy: string | null;
  /** Every view that a complaint is photographed by was taken, by the dealer or for the dealer. */
  readonly toldPhotosWhole: boolean;
  /** A pack was lent to the customer and has not come back. */
  readonly loanIsOut: boolean | null;
  /** The pack sent in place of the returned one was neither handed over, nor came back, nor was recorded as missing. */
  readonly unitIsOut: boolean;
  /** All money lines are paid, reversed or expressly nil. */
  readonly moneySettled: boolean | null;
  readonly hasReadings: boolean;
}

export const nothingKnown: KnownFacts = {
  transportClass: null,
  rulesStand: false,
  // Asked as the system where a pack is allowed to be sent or handed over (lib/data/transport/incoming-sending.ts).
  evidenceStands: true,
  isHeldUnseen: false,
  labelPrinted: false,
  packedAsTold: false,
  hasArrived: false,
  wasAnotherPack: false,
  hasProof: false,
  hasNewReadings: false,
  outgoing: "outgoing-no-class",
  sendingEndsAt: null,
  quarantineMet: null,
  tests: null,
  reservedSerial: null,
  faultCoding: "missing",
  noFaultProtocol: "open",
  isReleased: null,
  outgoingIsStopped: null,
  noticesGiven: null,
  remedyDelivered: null,
  refundIsAgreed: false,
  refundPaidIn: null,
  unitGiven: null,
  awaitedBackBy: null,
  toldPhotosWhole: false,
  loanIsOut: null,
  unitIsOut: false,
  moneySettled: null,
  hasReadings: false,
};
