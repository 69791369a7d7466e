import * as guard from "./case-guards";
import type { CaseMove } from "./case-move";
import * as given from "./given-guards";
import type { MoveName } from "./move-names";
import * as place from "./place-guards";

/** The part of the one table of moves (`case-moves.ts`) in which a pack is asked for, sent, comes in, and is begun on. */
export const sendingMoves = {
  "approve-return": {
    // What was decided unseen may need the pack after all.
    from: ["in-review", "remote-help", "decided"],
    to: "return-approved",
    act: "approve-return",
    needsReason: true,
    guards: [place.packIsCalledFor, guard.packIsNotSetApart, guard.classIsDeclared, place.packIsWithThem],
  },
  "hand-to-carrier": {
    from: ["return-approved"],
    to: "return-expected",
    act: "confirm-at-counter",
    needsReason: false,
    guards: [
      guard.packIsNotSetApart,
      guard.classIsDeclared,
      guard.sendingIsOpen,
      guard.labelIsPrinted,
      guard.isPackedAsTold,
      place.packIsWithThem,
    ],
    custodyTo: "with-carrier-in",
  },
  "come-back": {
    from: ["return-expected"],
    // It is allowed to be sent anew; class, label and ticks were for the journey that ended.
    to: "return-approved",
    act: "confirm-at-counter",
    orAct: "receive-pack",
    needsReason: true,
    guards: [place.packCanBeWithThemAgain],
    custodyTo: "with-dealer",
    // Its class is used up: the house declares first.
    turn: "maker",
    clock: "of-the-desk",
  },
  "lapse-approval": {
    from: ["return-approved"],
    to: "lapsed",
    act: "lapse-return",
    needsReason: true,
    guards: [guard.packIsNotSetApart, guard.sendingHasEnded, given.nothingIsOut],
    byTime: true,
  },
  "renew-approval": {
    from: ["lapsed"],
    to: "return-approved",
    act: "approve-return",
    needsReason: true,
    guards: [guard.lapsedBeforeSending, guard.packIsNotSetApart, guard.classIsDeclared, place.packIsWithThem],
  },
  receive: {
    from: ["return-expected", "return-approved", "in-review", "remote-help", "lapsed"], // The others: unannounced.
    to: "at-the-works",
    act: "receive-pack",
    needsReason: false,
    guards: [guard.arrivalIsRecorded, guard.identityIsScanned],
    custodyTo: "quarantine",
  },
  "await-again": {
    from: ["at-the-works"],
    // The wrong box used up class, label and ticks: the right pack is allowed to come, under papers of its own.
    to: "return-approved",
    act: "receive-pack",
    needsReason: true,
    guards: [guard.wasAnotherPack],
    // Its class is used up: the house declares first.
    turn: "maker",
    clock: "of-the-desk",
  },
  "start-test": {
    // Looked at anew while the pack lies here, it is tested again.
    from: ["at-the-works", "in-review"],
    to: "under-test",
    act: "test-pack",
    needsReason: false,
    guards: [guard.packIsNotSetApart, guard.packIsHere, guard.quarantineIsOver],
    custodyTo: "bench",
  },
} as const satisfies Readonly<Partial<Record<MoveName, CaseMove>>>;
