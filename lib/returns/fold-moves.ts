import { z } from "zod";
import { type CalendarDate, isCalendarDate } from "@/lib/warranty/calendar";
import { comesBackAnswers } from "./comes-back";
import { confirmedFaults, type Decision, decidableRemedies } from "./decision.schema";
import { type MoveName, readMoveName } from "./move-names";
import { nothingPast, type ReturnPast } from "./return-standing";
import { type ReturnStatus, readReturnStatus } from "./return-status";

/** A row of the history as far as the next move depends on it. */
export interface RecordedMove {
  /** Null in rows of the first form, which had four moves told apart by where they lead. */
  readonly move: string | null;
  readonly from: string | null;
  readonly to: string;
  readonly actorUserId: string;
  readonly actorName: string;
  readonly actorRole: string;
  readonly reason: string;
  readonly at: Date;
  readonly facts: unknown;
}

/** A decision as it lies in the history; read back, never written in another shape. */
const recordedFacts = z.object({
  begunByUserId: z.string().optional(),
  stated: z.object({ dueOn: z.string().optional(), letterGivenOn: z.string().optional() }).loose().optional(),
  decision: z
    .object({
      remedy: z.enum(decidableRemedies),
      confirmedFault: z.enum(confirmedFaults),
      reason: z.string(),
      seenVersion: z.number(),
      replacementRevisionCode: z.string().optional(),
      refundMinor: z.number().optional(),
      refundCurrency: z.string().optional(),
      isGoodwill: z.boolean().optional(),
      refusalTerm: z.string().optional(),
      refusalEvidence: z.string().optional(),
      refusalAlternatives: z.string().optional(),
      refusedUnseenBecause: z.string().optional(),
      comesBack: z.string().optional(),
      comesBackWhat: z.enum(comesBackAnswers).optional(),
      comesBackBy: z.string().optional(),
    })
    .optional(),
});

interface RecordedFacts {
  readonly decision: Decision | null;
  readonly dueOn: string;
  readonly letterGivenOn: CalendarDate | null;
  readonly begunByUserId: string | null;
}

interface Folded extends ReturnPast {
  /** Whoever proposed or decided what stands now. */
  readonly reviewerIds: readonly string[];
}

/**
 * What the moves of a return say about where it stands: the open question, the proposal that waits, who reviewed what
 * was objected to, the instants from which periods run. The history is the only place these are kept.
 */
export function foldMoves(moves: readonly RecordedMove[]): ReturnPast {
  const { reviewerIds: _, ...past } = moves.reduce(fold, { ...nothingPast, reviewerIds: [] });
  return past;
}

function fold(past: Folded, row: RecordedMove): Folded {
  const name = row.move === null ? firstFormMove(row.to) : readMoveName(row.move);
  const from = row.from === null ? null : readReturnStatus(row.from);
  const facts = recordedFacts.safeParse(row.facts ?? {});
  const decision = facts.success ? (facts.data.decision ?? null) : null;
  const dueOn = facts.success ? (facts.data.stated?.dueOn ?? "") : "";
  const letterDay = facts.success ? facts.data.stated?.letterGivenOn : undefined;
  const letterGivenOn = letterDay === undefined || !isCalendarDate(letterDay) ? null : letterDay;
  const begunByUserId = facts.success ? (facts.data.begunByUserId ?? null) : null;
  return { ...past, ...whatChanges(past, row, name, from, { decision, dueOn, letterGivenOn, begunByUserId }) };
}

function whatChanges(
  past: Folded,
  row: RecordedMove,
  name: MoveName,
  from: ReturnStatus | null,
  { decision, dueOn, letterGivenOn, begunByUserId }: RecordedFacts,
): Partial<Folded> {
  const { proposal, question } = past;
  const at = row.at.toISOString();
  switch (name) {
    case "lodge":
      return { lodgedByUserId: row.actorUserId, begunByUserId };
    case "ask":
      return from === null
        ? {}
        : {
            question: {
              from,
              text: row.reason,
              dueOn,
              reminders: 0,
              askedByName: row.actorName,
              lastAskedAt: at,
              lapseProposedAt: null,
            },
          };
    case "remind":
      return question === null ? {} : { question: { ...question, reminders: question.reminders + 1, lastAskedAt: at } };
    case "propose-lapse":
      return question === null ? {} : { question: { ...question, lapseProposedAt: at } };
    case "answer":
      return { question: null };
    case "lapse-unanswered":
    case "lapse-approval":
      return { lapsedFrom: from, askedBeforeLapse: question?.from ?? null, question: null };
    case "renew-approval":
    case "take-up-again":
      return { lapsedFrom: null, askedBeforeLapse: null };
    case "help":
      return { helpConfirmed: false };
    case "confirm-help":
      return { helpConfirmed: true };
    case "solve-remotely":
      return { solvedAt: at, decidedAt: at };
    case "propose":
      return from === null || decision === null ? {} : { proposal: proposed(row, from, decision) };
    case "approve":
    case "approve-as-second":
      return row.to === "decided"
        ? { proposal: null, decidedAt: at, letterGivenOn: null, reviewerIds: partsIn(proposal, row) }
        : { proposal: proposal === null ? null : withFirstApproval(proposal, row) };
    case "send-back":
    case "veto":
      return { proposal: null };
    case "give-letter":
      return { letterGivenOn };
    case "hand-back":
      return { handedBackAt: at };
    case "object":
    case "reopen":
    case "reopen-solved":
      return {
        formerReviewerIds: [...new Set([...past.formerReviewerIds, ...past.reviewerIds])],
        reviewerIds: [],
        decidedAt: null,
        handedBackAt: null,
        solvedAt: null,
        letterGivenOn: null,
      };
    default:
      return {};
  }
}

type Proposal = NonNullable<ReturnPast["proposal"]>;

/** Whoever proposed the decision, approved it first, or approved it last: the letter promises a reviewer who is none of them. */
function partsIn(proposal: Proposal | null, { actorUserId }: RecordedMove): string[] {
  const earlier = proposal === null ? [] : [proposal.proposedByUserId, proposal.firstApprovalByUserId];
  return [...new Set([...earlier.filter((id) => id !== null), actorUserId])];
}

function proposed(row: RecordedMove, from: ReturnStatus, decision: Decision): Proposal {
  return {
    from,
    decision,
    proposedByUserId: row.actorUserId,
    proposedByName: row.actorName,
    proposedByRole: row.actorRole,
    firstApprovalByUserId: null,
    firstApprovalByName: null,
  };
}

function withFirstApproval(proposal: Proposal, row: RecordedMove): Proposal {
  return { ...proposal, firstApprovalByUserId: row.actorUserId, firstApprovalByName: row.actorName };
}

function firstFormMove(to: string): MoveName {
  switch (to) {
    case "sent-in":
      return "lodge";
    case "in-review":
      return "take";
    case "decided":
      return "approve";
    case "withdrawn":
      return "withdraw";
    default:
      throw new RangeError(`a history row of the first form leads to ${to}`);
  }
}
