import type { Act } from "@/lib/access/may";
import type { Guard } from "./case-guards";
import type { CustodyPlace } from "./custody-track";
import type { ReturnStatus } from "./return-status";

export interface CaseMove {
  readonly from: readonly (ReturnStatus | null)[];
  /** Where it leads; null where that depends on where it came from (`destinationOf` in where-moves-lead.ts). */
  readonly to: ReturnStatus | null;
  /** Null: no person makes it, only the program at its time. */
  readonly act: Act | null;
  /** The same move for others than those the act is given to. */
  readonly orAct?: Act;
  /** Whether the history row must carry a reason in somebody's words. */
  readonly needsReason: boolean;
  /** Conditions, asked in this order; the first that is not met is the answer. */
  readonly guards: readonly Guard[];
  /** The program makes it too when its time has come, under the same conditions. */
  readonly byTime?: true;
  /** Where the pack is after the move, unless it is there already. */
  readonly custodyTo?: CustodyPlace;
}
