import { type Guard, unless } from "./case-guards";
import { atTheWorks } from "./custody-track";
import { deniesRemedy } from "./decision.schema";

/**
 * Whoever refuses a pack that nobody had in hand has its photographs, or writes why not: a refusal names its evidence (trade.md
 * 1.11, common practice). A disposal asks for none, because what is dangerous is not photographed first.
 */
export const refusalRestsOnSomething: Guard = ({ standing: { status, custody, known }, decision }) => {
  if (decision === null || status !== "in-review" || atTheWorks.includes(custody)) return null;
  if (!deniesRemedy(decision) || decision.remedy === "dispose") return null;
  return unless(known.toldPhotosWhole || decision.refusedUnseenBecause !== undefined, "refusal-unseen");
};
