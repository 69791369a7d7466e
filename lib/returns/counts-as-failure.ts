import type { ConfirmedFault } from "./decision.schema";

/** What was done to a pack from outside, or nothing found, is no failure of the pack; "unknown" is not a confirmed one. */
export function countsAsFailure(confirmedFault: ConfirmedFault): boolean {
  return !["no-fault-found", "outside-cause", "unknown"].includes(confirmedFault);
}
