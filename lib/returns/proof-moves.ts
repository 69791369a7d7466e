import type { CaseMove } from "./case-move";
import { openToProofs, openToReadings } from "./case-stages";
import type { MoveName } from "./move-names";
import * as proof from "./proof-guards";

type ProofMove = "prove-sale" | "choose-proof" | "add-readings";

/** What a proof changes is the answer about cover; where the return stands and whose turn it is stays. */
const changesCover = {
  from: openToProofs,
  to: null,
  needsReason: true,
  guards: [proof.proofIsKept, proof.provenDayIsGiven],
  turn: "stays",
  clock: "runs-on",
} as const;

/** What comes after a return was lodged and leaves it where it stands: a proof of purchase, the choice between several, readings. */
export const proofMoves = {
  "prove-sale": { ...changesCover, act: "confirm-proof" },
  "choose-proof": { ...changesCover, act: "choose-proof" },
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
