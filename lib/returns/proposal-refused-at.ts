import type { Decision } from "./decision.schema";
import type { StatedFacts } from "./return-facts";

/** A question of the desk where a decision is proposed. */
export type ProposalQuestion = keyof Decision | keyof Pick<StatedFacts, "tests" | "testsWaivedBecause">;

/** What a refusal is about, whatever else was answered. */
const questions: Readonly<Record<string, ProposalQuestion>> = {
  "reason-missing": "reason",
  "remedy-missing": "remedy",
  // Another remedy would pass: the pack may be set apart, held, or looked at by nobody yet.
  "safety-open": "remedy",
  "on-hold": "remedy",
  "look-first": "remedy",
  "tests-open": "tests",
  "refusal-unseen": "refusedUnseenBecause",
  "revision-may-not-replace": "replacementRevisionCode",
  "refund-in-other-currency": "refundCurrency",
  "due-in-the-past": "comesBackBy",
};

/** The question of the desk a refused proposal stands at; null where no other answer would change it. */
export function proposalRefusedAt(reason: string, { decision, stated }: Proposed): ProposalQuestion | null {
  if (reason === "given-before") return decision.comesBackWhat === undefined ? "comesBackWhat" : "comesBack";
  if (reason === "tests-open" && stated.tests === "waived") return "testsWaivedBecause";
  // The coding of the bench may say so too; that is changed there and not here.
  const isSaidHere = decision.confirmedFault === "no-fault-found";
  if (reason === "no-fault-untried" || reason === "no-fault-showed") return isSaidHere ? "confirmedFault" : null;
  return questions[reason] ?? null;
}

interface Proposed {
  readonly decision: Pick<Decision, "comesBackWhat" | "confirmedFault">;
  readonly stated: Pick<StatedFacts, "tests">;
}
