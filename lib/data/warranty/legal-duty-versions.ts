import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type ProposalRefusal, proposalSentences, type Verdict } from "@/lib/access/two-people";
import { type CalendarDate, compareDates } from "@/lib/warranty/calendar";
import type { LegalDuty } from "@/lib/warranty/legal-duty";
import type { CounselsWordTyped, LegalDutyProposal } from "@/lib/warranty/legal-duty.schema";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { fromDateColumn, toDateColumn } from "../calendar-columns";
import { asActor } from "../database";
import {
  firstDayIsOver,
  keepProposal,
  peopleSelect,
  proposedBy,
  settleProposal,
  type TwoPeople,
  twoPeople,
} from "../two-people";
import { breaksUnique } from "../unique-violation";
import { fingerprintOfDuty, readLegalDuties, toLegalDuty } from "./legal-duties-held";

const sentences = proposalSentences({
  thing: "row of law",
  whose: "managers",
  another: "another manager",
  notPast: "what was answered before stays answered. The sales it is about may lie in the past.",
});

export type LawAnswer =
  | { readonly ok: true }
  | {
      readonly ok: false;
      readonly reason: ProposalRefusal | "changed" | "confirmed" | "day-to-come";
      readonly sentence: string;
    };

function refuse(reason: ProposalRefusal): LawAnswer {
  return { ok: false, reason, sentence: sentences[reason] };
}

export interface HeldDuty {
  readonly duty: LegalDuty;
  readonly fingerprint: string;
  /** Whether answers of today about sales of its time are drawn from it: no later row speaks of the same sales. */
  readonly countsToday: boolean;
}

export interface DutyVersionView extends TwoPeople {
  readonly version: string;
  readonly validFrom: CalendarDate;
  readonly duty: LegalDuty;
}

export interface LegalTable {
  /** What counts or will count, by country and sale. */
  readonly held: readonly HeldDuty[];
  /** What people proposed, whatever became of it, newest first. */
  readonly proposals: readonly DutyVersionView[];
}

/** The whole table of the law, of one country where it is named; null where the person may not ask. */
export async function readLegalTable(actor: Actor, country?: string, now = new Date()): Promise<LegalTable | null> {
  if (!may(actor, "read-policies")) return null;
  const today = civilDateAt(now, "UTC");
  return asActor(actor, async (tx) => {
    const all = (await readLegalDuties(tx)).filter((duty) => country === undefined || duty.country === country);
    const rows = await tx.legalDutyVersion.findMany({
      where: country === undefined ? {} : { country },
      select: { version: true, country: true, salesFrom: true, validFrom: true, content: true, ...peopleSelect },
      orderBy: [{ proposedAt: "desc" }],
    });
    return {
      held: all.map((duty) => ({
        duty,
        fingerprint: fingerprintOfDuty(duty),
        countsToday: countsOn(duty, all, today),
      })),
      proposals: rows.map((row) => {
        const validFrom = fromDateColumn(row.validFrom);
        const duty = toLegalDuty({ ...row, validFrom, salesFrom: fromDateColumn(row.salesFrom) });
        return { version: row.version, validFrom, duty, ...twoPeople(actor, row) };
      }),
    };
  });
}

function countsOn(duty: LegalDuty, all: readonly LegalDuty[], today: CalendarDate): boolean {
  const begins = ({ countsFrom }: LegalDuty) => countsFrom ?? "";
  const hasBegun = (one: LegalDuty) => one.countsFrom === null || compareDates(one.countsFrom, today) <= 0;
  const isSame = (one: LegalDuty) => one.country === duty.country && one.salesFrom === duty.salesFrom;
  return hasBegun(duty) && !all.some((one) => isSame(one) && hasBegun(one) && begins(one) > begins(duty));
}

/** Proposes a row; it counts for nothing until another manager approves it, and for no answer given before its first day. */
export async function proposeLegalDuty(
  actor: Actor,
  proposal: LegalDutyProposal,
  now = new Date(),
): Promise<LawAnswer> {
  if (!may(actor, "propose-law")) return refuse("not-allowed");
  const { version, country, salesFrom, validFrom, why, sources, ...rest } = proposal;
  const content = { ...rest, sources: sources.map((source) => ({ ...source })) };
  const days = { salesFrom: toDateColumn(salesFrom), validFrom: toDateColumn(validFrom) };
  const refused = await keepProposal(actor, validFrom, now, (tx) =>
    tx.legalDutyVersion.create({
      data: { version, country, ...days, content, why, ...proposedBy(actor, now) },
      select: { id: true },
    }),
  );
  return refused === null ? { ok: true } : refuse(refused);
}

export async function settleLegalDuty(
  actor: Actor,
  version: string,
  verdict: Verdict,
  now = new Date(),
): Promise<LawAnswer> {
  if (!may(actor, "approve-law")) return refuse("not-allowed");
  const answer = await settleProposal(actor, {
    verdict,
    now,
    find: (tx) => tx.legalDutyVersion.findUnique({ where: { version } }),
    whyNotApproved: (row) => firstDayIsOver(row, now),
    save: (tx, _row, columns) =>
      tx.legalDutyVersion.updateMany({ where: { version, state: "proposed" }, data: columns }),
    dayIndex: "LegalDutyVersion_one_approved_a_day",
  });
  return answer.ok ? answer : refuse(answer.reason);
}

/** Records counsel's word on one row, as it reads now. Never by whoever proposed that row, because then one person made the law. */
export async function recordCounselsWord(
  actor: Actor,
  { fingerprint, confirmedOn, ...word }: CounselsWordTyped,
  now = new Date(),
): Promise<LawAnswer> {
  if (!may(actor, "confirm-law")) return refuse("not-allowed");
  if (compareDates(confirmedOn, civilDateAt(now, "UTC")) > 0)
    return { ok: false, reason: "day-to-come", sentence: "The day of counsel's word is still to come." };
  try {
    return await asActor(actor, async (tx): Promise<LawAnswer> => {
      const duty = (await readLegalDuties(tx)).find((one) => fingerprintOfDuty(one) === fingerprint);
      if (duty === undefined)
        return {
          ok: false,
          reason: "changed",
          sentence: "The row changed while this page was open. Read it as it is now.",
        };
      const proposal = await tx.legalDutyVersion.findUnique({
        where: { version: duty.version },
        select: { proposedByUserId: true },
      });
      if (proposal?.proposedByUserId === actor.userId)
        return {
          ok: false,
          reason: "same-person",
          sentence: "You proposed this row, so another manager records counsel's word.",
        };
      const { country, version } = duty;
      const by = { recordedByUserId: actor.userId, recordedByName: actor.name, recordedAt: now };
      await tx.legalDutyConfirmation.create({
        data: { ...word, fingerprint, country, version, confirmedOn: toDateColumn(confirmedOn), ...by },
        select: { id: true },
      });
      return { ok: true };
    });
  } catch (error) {
    if (breaksUnique(error, "LegalDutyConfirmation_fingerprint_key"))
      return { ok: false, reason: "confirmed", sentence: "Counsel's word on this row was recorded before." };
    throw error;
  }
}
