import type { CalendarDate } from "@/lib/warranty/calendar";
import type { CustodyPlace } from "./custody-track";
import type { Decision } from "./decision.schema";
import type { KnownFacts } from "./return-facts";
import type { ReturnSettings } from "./return-settings.schema";
import type { ReturnStatus } from "./return-status";
import type { SafetyState } from "./safety-track";
import type { SecondPersonReason, WeighedBeside } from "./second-person";
import type { ToldPeriods } from "./told-periods";

/** What the history of a return says about the step it stands at, folded from its moves. */
export interface ReturnPast {
  /** Who lodged it; whoever that is approves nothing. */
  readonly lodgedByUserId: string | null;
  /** Who of the house began it for a dealer who sent it; null where the dealer began it, or nobody else did. */
  readonly begunByUserId: string | null;
  /** The question that is open, and where the return stood when it was asked. */
  readonly question: {
    readonly from: ReturnStatus;
    readonly text: string;
    readonly dueOn: string;
    readonly reminders: number;
    readonly askedByName: string;
    /** Instant at which it was asked or last repeated. */
    readonly lastAskedAt: string;
    /** Instant at which the program proposed to let the return lapse; null where it has not. */
    readonly lapseProposedAt: string | null;
  } | null;
  /** Where the return stood before it lapsed; null where it did not. */
  readonly lapsedFrom: ReturnStatus | null;
  /** Where the question was asked that it lapsed on; null where it lapsed on none. */
  readonly askedBeforeLapse: ReturnStatus | null;
  /** The decision that waits for approval. */
  readonly proposal: {
    readonly from: ReturnStatus;
    readonly decision: Decision;
    readonly proposedByUserId: string;
    readonly proposedByName: string;
    readonly proposedByRole: string;
    readonly firstApprovalByUserId: string | null;
    readonly firstApprovalByName: string | null;
  } | null;
  /** Whoever proposed what was later objected to or reopened: the next look is somebody else's. */
  readonly formerReviewerIds: readonly string[];
  /** The dealer confirmed that the help from a distance solved it. */
  readonly helpConfirmed: boolean;
  /** Instants the periods run from; null where it never came so far. */
  readonly decidedAt: string | null;
  readonly handedBackAt: string | null;
  readonly solvedAt: string | null;
  /** Day on which the customer got the letter of the decision that stands; null where nobody recorded it. */
  readonly letterGivenOn: CalendarDate | null;
}

/** A return as it stands in the store, with all that a move is judged by. */
export interface ReturnStanding {
  /** Null before it is lodged. */
  readonly status: ReturnStatus | null;
  /** Rises by one with every move; 0 before the first. */
  readonly version: number;
  readonly dealerId: string;
  /** IANA zone of the dealer: days that are told to people are days there. */
  readonly timeZone: string;
  readonly reference: string;
  readonly serial: string;
  readonly safety: SafetyState;
  readonly isOnHold: boolean;
  readonly custody: CustodyPlace;
  /** The remedy that was decided and stands. */
  readonly decidedRemedy: Decision["remedy"] | null;
  readonly past: ReturnPast;
  readonly known: KnownFacts;
  /** What a decision is weighed against to see whether one person is enough. */
  readonly weighed: WeighedBeside;
  /** Why the proposal that waits needs a second approver; empty where one is enough or none waits. */
  readonly secondPerson: readonly SecondPersonReason[];
  readonly settings: ReturnSettings;
  readonly told: ToldPeriods;
  readonly now: Date;
}

export const nothingPast: ReturnPast = {
  lodgedByUserId: null,
  begunByUserId: null,
  question: null,
  lapsedFrom: null,
  askedBeforeLapse: null,
  proposal: null,
  formerReviewerIds: [],
  helpConfirmed: false,
  decidedAt: null,
  handedBackAt: null,
  solvedAt: null,
  letterGivenOn: null,
};
