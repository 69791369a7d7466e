import type { Actor } from "./actor";

/** What one person proposes and another settles: promises, periods, rules. Never edited; a change is a new proposal. */
const proposalStates = ["proposed", "approved", "dropped"] as const;
export type ProposalState = (typeof proposalStates)[number];
export type Verdict = Exclude<ProposalState, "proposed">;

/** Throws RangeError on a state that is none, because a stored row then says nothing reliable. */
export function readProposalState(stored: string): ProposalState {
  const found = proposalStates.find((state) => state === stored);
  if (found === undefined) throw new RangeError(`state of a proposal: ${stored} is unknown`);
  return found;
}

export interface Proposal {
  readonly state: string;
  /** Null only where set-up wrote it. */
  readonly proposedByUserId: string | null;
}

export type SettlingRefusal = "not-found" | "settled" | "same-person";

/**
 * Why a proposal cannot be settled so; null where it can. Whoever proposed may drop it, and never approves it
 * (separation of duties, common practice, no source).
 */
export function whyNotSettled(
  actor: Pick<Actor, "userId">,
  proposal: Proposal | null,
  verdict: Verdict,
): SettlingRefusal | null {
  if (proposal === null) return "not-found";
  if (proposal.state !== "proposed") return "settled";
  return verdict === "approved" && proposal.proposedByUserId === actor.userId ? "same-person" : null;
}

export type ProposalRefusal = SettlingRefusal | "not-allowed" | "version-taken" | "day-taken" | "day-past";

interface ProposalWords {
  /** What is proposed, as in "There is no such version." */
  readonly thing: string;
  /** Whose it is, as in "managers". */
  readonly whose: string;
  /** Who approves what one proposed, as in "another manager". */
  readonly another: string;
  /** Why none begins in the past. */
  readonly notPast: string;
}

/** Why a proposal was not taken or not settled, in sentences. */
export function proposalSentences(words: ProposalWords): Readonly<Record<ProposalRefusal, string>> {
  const { thing, whose, another, notPast } = words;
  return {
    "not-allowed": `A ${thing} is proposed and approved by ${whose}.`,
    "version-taken": `There is a ${thing} of this name already.`,
    "day-taken": `Another approved ${thing} begins on the same day.`,
    "day-past": `A ${thing} begins today or later: ${notPast}`,
    "not-found": `There is no such ${thing}.`,
    "same-person": `You proposed this ${thing}, so ${another} approves it.`,
    settled: `This ${thing} is settled already.`,
  };
}
