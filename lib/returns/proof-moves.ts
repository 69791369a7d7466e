import type { CaseMove } from "./case-move";
import { openToProofs, openToReadings } from "./case-stages";
import type { MoveName } from "./move-names";
import * as proof from "./proof-guards";

type ProofMove = "prove-sale" | "choose-proof" | "add-readings";

/** What comes after a return was lodged and leaves it where it stands: a proof of purchase, the choice between several, readings. */
export const proofMoves = {
  "prove-sale": {
    from: openToProofs,
    to: null,
    act: "confirm-proof",
    needsReason: true,
    guards: [proof.proofIsKept, proof.provenDayIsGiven],
    turn: "stays",
    clock: "runs-on",
  },
  "choose-proof": {
    from: openToProofs,
    to: null,
    act: "choose-proof",
    needsReason: true,
    guards: [proof.proofIsKept, proof.provenDayIsGiven],
    turn: "stays",
    clock: "runs-on",
  },
  "add-readings": {
    from: openToReadings,
    to: null,
    act: "add-readings",
    needsReason: true,
    guards: [proof.readingsAreRead],
    turn: "stays",
    clock: "runs-on",
  },
} as const satisfies Readonly<Record<Extract<MoveName, ProofMove>, CaseMove>>;
