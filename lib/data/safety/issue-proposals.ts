import "server-only";
import { randomUUID } from "node:crypto";
import { z } from "zod";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import type { Verdict } from "@/lib/access/two-people";
import {
  type CloseIssue,
  fieldOfRefusal,
  type IssueRefusal,
  isManagerMissing,
  issueRefusals,
  type OpenIssue,
} from "@/lib/packs/issue-proposal";
import { compareDates } from "@/lib/warranty/calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import type { Prisma } from "@/prisma/generated/client";
import { fromDateColumn, toDateColumn } from "../calendar-columns";
import { asActor, asSystem, type Transaction } from "../database";
import { packsUnder } from "../packs/issue-bounds";
import { firstDayIsOver, proposedBy, settleProposal } from "../two-people";
import { breaksUnique } from "../unique-violation";
import { addIssueEntry } from "./issue-entries";
import { findIssuePacks } from "./issue-packs";

export type IssueAnswer =
  | { readonly ok: true }
  | {
      readonly ok: false;
      readonly reason: string;
      /** The question it is about; "form" where it is about none. */
      readonly field: string;
      readonly sentence: string;
    };

const refuse = (reason: IssueRefusal): IssueAnswer => ({
  ok: false,
  reason,
  field: fieldOfRefusal(reason),
  sentence: issueRefusals[reason],
});

/** Proposes that an issue is opened; nothing changes before another person has approved it. */
export async function proposeIssue(actor: Actor, asked: OpenIssue, now = new Date()): Promise<IssueAnswer> {
  const found = await findIssuePacks(actor, asked);
  if (found === null) return refuse("not-allowed");
  if (found.kind === "refused") return { ok: false, ...found };
  const { title, action, coversWhateverTheDate, stopShip, fault, otherFault, suggestedRemedy, validFrom, why } = asked;
  if (compareDates(validFrom, civilDateAt(now, "UTC")) < 0) return refuse("day-past");
  const content = {
    ...found.bound,
    title: title.trim(),
    action: action.trim(),
    faults: [...new Set([fault, otherFault].flatMap((one) => one ?? []))],
    suggestedRemedy: suggestedRemedy ?? null,
    stopShip,
    coversWhateverTheDate,
    endsIssueId: asked.insteadOf === "" ? null : asked.insteadOf,
    packs: found.packs.length,
  };
  return keep(actor, async (tx) => {
    if (content.endsIssueId !== null) {
      const refusal = whyNotEnded(await findIssue(tx, content.endsIssueId), toDateColumn(validFrom));
      if (refusal !== null) return refuse(refusal);
    }
    const issueId = randomUUID();
    const row = { ...content, kind: "open", issueId, validFrom: toDateColumn(validFrom), why };
    const { id } = await tx.issueProposal.create({
      data: { ...row, ...proposedBy(actor, now), proposedByRole: actor.role },
      select: { id: true },
    });
    await addIssueEntry(tx, actor, {
      issueId,
      kind: "opening-proposed",
      content: { proposalId: id, ...content, validFrom },
      why,
      at: now,
    });
    return { ok: true };
  });
}

/** Proposes that an open issue is closed. */
export async function proposeClosing(actor: Actor, asked: CloseIssue, now = new Date()): Promise<IssueAnswer> {
  if (!may(actor, "propose-known-issue")) return refuse("not-allowed");
  const { issue: issueId, validFrom, why } = asked;
  if (compareDates(validFrom, civilDateAt(now, "UTC")) < 0) return refuse("day-past");
  const counted = await asSystem(async (tx) => {
    const issue = await findIssue(tx, issueId);
    return issue === null ? 0 : tx.pack.count({ where: packsUnder(issue) });
  });
  return keep(actor, async (tx) => {
    const refusal = whyNotEnded(await findIssue(tx, issueId), toDateColumn(validFrom));
    if (refusal !== null) return refuse(refusal);
    const { id } = await tx.issueProposal.create({
      data: {
        ...{ kind: "close", issueId, endsIssueId: issueId, faults: [], packs: counted, why },
        validFrom: toDateColumn(validFrom),
        ...proposedBy(actor, now),
        proposedByRole: actor.role,
      },
      select: { id: true },
    });
    const content = { proposalId: id, validFrom };
    await addIssueEntry(tx, actor, { issueId, kind: "closing-proposed", content, why, at: now });
    return { ok: true };
  });
}

/** Of two people who end the same issue at once the second is told of the first. */
async function keep(actor: Actor, work: (tx: Transaction) => Promise<IssueAnswer>): Promise<IssueAnswer> {
  try {
    return await asActor(actor, work);
  } catch (error) {
    if (breaksUnique(error, "IssueProposal_one_end_at_a_time")) return refuse("ends-already");
    throw error;
  }
}

const issueSelect = {
  revisionId: true,
  lotId: true,
  setId: true,
  openedOn: true,
  closedOn: true,
  coversWhateverTheDate: true,
} as const satisfies Prisma.KnownIssueSelect;
type IssueRow = Prisma.KnownIssueGetPayload<{ select: typeof issueSelect }>;

function findIssue(tx: Transaction, id: string): Promise<IssueRow | null> {
  return tx.knownIssue.findUnique({ where: { id }, select: issueSelect });
}

function whyNotEnded(issue: IssueRow | null, on: Date): IssueRefusal | null {
  if (issue === null) return "no-such-issue";
  if (issue.closedOn !== null) return "closed-already";
  return on < issue.openedOn ? "before-it-begins" : null;
}

async function findProposal(tx: Transaction, id: string) {
  const row = await tx.issueProposal.findUnique({ where: { id } });
  if (row === null) return null;
  return { ...row, ends: row.endsIssueId === null ? null : await findIssue(tx, row.endsIssueId) };
}
type ProposalRow = NonNullable<Awaited<ReturnType<typeof findProposal>>>;

/** Approves or drops what was proposed; whoever proposed it never approves it. Approved, the issue is opened or closed with it. */
export async function settleIssueProposal(
  actor: Actor,
  proposal: string,
  verdict: Verdict,
  now = new Date(),
): Promise<IssueAnswer> {
  if (!may(actor, "approve-known-issue")) return refuse("not-allowed");
  if (!z.uuid().safeParse(proposal).success) return refuse("not-found");
  const answer = await settleProposal<ProposalRow, IssueRefusal>(actor, {
    verdict,
    now,
    find: (tx) => findProposal(tx, proposal),
    whyNotApproved: (row) => whyNotApproved(actor, row, now),
    save: async (tx, row, columns) => {
      const settled = await tx.issueProposal.updateMany({ where: { id: row.id, state: "proposed" }, data: columns });
      if (settled.count === 1) await carryOut(tx, actor, row, verdict, now);
      return settled;
    },
  });
  return answer.ok ? answer : refuse(answer.reason === "day-taken" ? "settled" : answer.reason);
}

function whyNotApproved(actor: Actor, row: ProposalRow, now: Date): IssueRefusal | null {
  const ended = row.endsIssueId === null ? null : whyNotEnded(row.ends, row.validFrom);
  if (ended !== null) return ended;
  const changesCover = row.coversWhateverTheDate || row.ends?.coversWhateverTheDate === true;
  if (isManagerMissing(changesCover, row.proposedByRole, actor)) return "manager-missing";
  return firstDayIsOver(row, now);
}

/** What an approval opens and closes, and what is written down of either verdict. */
async function carryOut(tx: Transaction, actor: Actor, row: ProposalRow, verdict: Verdict, now: Date): Promise<void> {
  const { id, issueId, validFrom, why } = row;
  const content = { proposalId: id, validFrom: fromDateColumn(validFrom) };
  const isOpening = row.kind === "open";
  if (verdict === "dropped") {
    const kind = isOpening ? "opening-dropped" : "closing-dropped";
    return addIssueEntry(tx, actor, { issueId, kind, content, why, at: now });
  }
  if (isOpening) {
    const { title, action, revisionId, lotId, setId, faults, suggestedRemedy, stopShip, coversWhateverTheDate } = row;
    if (title === null || action === null) throw new RangeError(`proposal ${id} opens an issue without words`);
    const opened = {
      title,
      action,
      revisionId,
      lotId,
      setId,
      faults,
      suggestedRemedy,
      stopShip,
      coversWhateverTheDate,
    };
    await tx.knownIssue.create({ data: { ...opened, id: issueId, openedOn: validFrom }, select: { id: true } });
    await addIssueEntry(tx, actor, { issueId, kind: "opened", content: { ...opened, ...content }, why, at: now });
  }
  if (row.endsIssueId === null) return;
  await tx.knownIssue.updateMany({ where: { id: row.endsIssueId }, data: { closedOn: validFrom } });
  await addIssueEntry(tx, actor, { issueId: row.endsIssueId, kind: "closed", content, why, at: now });
}
