import type { Symptom } from "@/lib/returns/symptoms";

/** What is known of the return besides the log. Everything may be unknown, and most of it is while the form is unsent. */
export interface SuggestionContext {
  readonly cover?: "covered" | "not covered" | "unknown";
  /** A potted pack cannot be opened: no cell swapped, no joint welded anew, no harness reached. */
  readonly potted?: boolean;
  /** Whether the cells of this revision can be exchanged; false for a revision whose groups are welded in. */
  readonly cellsRepairable?: boolean;
  readonly compatibleReplacementKnown?: boolean;
  /** What the customer complained of. */
  readonly complaint?: Symptom;
  /** Days since first use. */
  readonly ageDays?: number;
}
