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
  /** Whose turn it is afterwards, where that is not told by the status it leads to: the maker's, or whose it was. */
  readonly turn?: "maker" | "stays";
  /**
   * What becomes of the time in which something is due, where it does not begin anew with the status it leads to: it runs on, stops for
   * a question, goes on with what was left, or is that of a look at the desk.
   */
  readonly clock?: "runs-on" | "pauses" | "resumes" | "of-the-desk";
  /** Whoever makes it has the return in hand from then on. */
  readonly takes?: true;
  /** Where the pack is after the move, unless it is there already. */
  readonly custodyTo?: CustodyPlace;
}
