import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import type { IssuePacks } from "@/lib/packs/issue-proposal";
import { isOpenOn } from "@/lib/packs/known-issue";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import type { Prisma } from "@/prisma/generated/client";
import { fromDateColumn, fromOptionalDateColumn } from "../calendar-columns";
import { asActor, type Transaction } from "../database";
import { packsUnder } from "../packs/issue-bounds";
import { peopleSelect, type TwoPeople, twoPeople } from "../two-people";
import { sayBound } from "./issue-packs";

interface IssueWords {
  readonly title: string;
  readonly action: string;
  /** The packs it names, in words and as the questions of the form have them. */
  readonly packsInWords: string;
  readonly named: IssuePacks;
  readonly faults: readonly string[];
  readonly suggestedRemedy: string | null;
  readonly stopShip: boolean;
  readonly coversWhateverTheDate: boolean;
}

export interface IssueView extends IssueWords {
  readonly id: string;
  readonly openedOn: CalendarDate;
  readonly closedOn: CalendarDate | null;
  readonly state: "not-yet" | "open" | "closed";
  /** How many packs it names today, as they are maintained. */
  readonly packs: number;
  /** By whom it was opened and closed, and why; empty where set-up wrote it. */
  readonly past: readonly ProposalView[];
  /** Whether somebody proposed already that it ends. */
  readonly isEndProposed: boolean;
}

export interface ProposalView extends TwoPeople {
  readonly id: string;
  readonly kind: "open" | "close";
  readonly validFrom: CalendarDate;
  /** How many packs it named when it was proposed. */
  readonly packs: number;
  /** What it opens; of one that closes, the issue it closes. */
  readonly words: IssueWords;
  /** The issue whose place it takes, by its title. */
  readonly insteadOf: string | null;
}

export interface KnownIssues {
  readonly proposals: readonly ProposalView[];
  readonly issues: readonly IssueView[];
}

const wordsSelect = {
  title: true,
  action: true,
  faults: true,
  suggestedRemedy: true,
  stopShip: true,
  coversWhateverTheDate: true,
  revision: { select: { code: true } },
  lot: { select: { code: true, kind: true } },
  set: { select: { number: true } },
} as const satisfies Prisma.KnownIssueSelect;

const issueSelect = {
  ...wordsSelect,
  ...{ id: true, openedOn: true, closedOn: true, revisionId: true, lotId: true, setId: true },
} as const satisfies Prisma.KnownIssueSelect;
type IssueRow = Prisma.KnownIssueGetPayload<{ select: typeof issueSelect }>;

const proposalSelect = {
  ...wordsSelect,
  ...{ id: true, kind: true, issueId: true, endsIssueId: true, validFrom: true, packs: true },
  ...peopleSelect,
} as const satisfies Prisma.IssueProposalSelect;
type ProposalRow = Prisma.IssueProposalGetPayload<{ select: typeof proposalSelect }>;

/** Every known issue with who opened and closed it, those that count first, and what waits for a second person; null for whoever may not. */
export async function listKnownIssues(actor: Actor, now = new Date()): Promise<KnownIssues | null> {
  if (!may(actor, "propose-known-issue")) return null;
  const today = civilDateAt(now, "UTC");
  return asActor(actor, async (tx) => {
    const rows = await tx.knownIssue.findMany({ select: issueSelect, orderBy: { openedOn: "desc" } });
    const proposals = await tx.issueProposal.findMany({ select: proposalSelect, orderBy: { proposedAt: "asc" } });
    const issueOf = new Map(rows.map((row) => [row.id, row]));
    const view = (row: ProposalRow) => proposalView(actor, row, issueOf);
    const issues: IssueView[] = [];
    for (const row of rows) issues.push(await issueView(tx, row, { today, proposals, view }));
    const order = { open: 0, "not-yet": 1, closed: 2 } as const;
    return {
      proposals: proposals.filter(({ state }) => state === "proposed").map(view),
      issues: issues.toSorted((a, b) => order[a.state] - order[b.state]),
    };
  });
}

interface Around {
  readonly today: CalendarDate;
  readonly proposals: readonly ProposalRow[];
  readonly view: (row: ProposalRow) => ProposalView;
}

async function issueView(tx: Transaction, row: IssueRow, { today, proposals, view }: Around): Promise<IssueView> {
  const dates = { openedOn: fromDateColumn(row.openedOn), closedOn: fromOptionalDateColumn(row.closedOn) };
  const own = proposals.filter(({ issueId, endsIssueId }) => issueId === row.id || endsIssueId === row.id);
  return {
    ...wordsOf(row),
    ...dates,
    id: row.id,
    state: isOpenOn(dates, today) ? "open" : dates.openedOn > today ? "not-yet" : "closed",
    packs: await tx.pack.count({ where: packsUnder(row) }),
    past: own.filter(({ state }) => state === "approved").map(view),
    isEndProposed: own.some(({ state, endsIssueId }) => state === "proposed" && endsIssueId === row.id),
  };
}

function proposalView(actor: Actor, row: ProposalRow, issueOf: ReadonlyMap<string, IssueRow>): ProposalView {
  const ended = row.endsIssueId === null ? null : (issueOf.get(row.endsIssueId) ?? null);
  const { title, action } = row;
  const words = title === null || action === null ? ended : { ...row, title, action };
  if (words === null) throw new RangeError(`proposal ${row.id} neither opens an issue nor closes one on record`);
  return {
    id: row.id,
    kind: title === null ? "close" : "open",
    validFrom: fromDateColumn(row.validFrom),
    packs: row.packs,
    words: wordsOf(words),
    insteadOf: title === null ? null : (ended?.title ?? null),
    ...twoPeople(actor, row),
  };
}

type Worded = Pick<IssueRow, keyof typeof wordsSelect>;

function wordsOf({
  title,
  action,
  faults,
  suggestedRemedy,
  stopShip,
  coversWhateverTheDate,
  ...of
}: Worded): IssueWords {
  const named = {
    revision: of.revision?.code ?? "",
    lot: of.lot === null ? "" : `${of.lot.kind} ${of.lot.code}`,
    set: of.set === null ? "" : String(of.set.number),
  };
  return {
    ...{ title, action, faults, suggestedRemedy, stopShip, coversWhateverTheDate, named },
    packsInWords: sayBound(named),
  };
}
