import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type ProposalRefusal, proposalSentences, type Verdict } from "@/lib/access/two-people";
import { type ReturnSettings, returnSettingsSchema } from "@/lib/returns/return-settings.schema";
import type { SettingsProposal } from "@/lib/returns/settings-proposal.schema";
import { settingsChanged, settingsInWords } from "@/lib/returns/settings-words";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { fromDateColumn, toDateColumn } from "../calendar-columns";
import { asActor } from "../database";
import { firstDayIsOver, keepProposal, proposedBy, settleProposal, type TwoPeople, twoPeople } from "../two-people";

export interface SettingsVersion extends TwoPeople {
  readonly version: string;
  readonly validFrom: CalendarDate;
  /** In force today. */
  readonly isInForce: boolean;
  readonly inWords: readonly { readonly what: string; readonly value: string }[];
  /** Against the approved version that began before it; null for the first. */
  readonly changes: readonly string[] | null;
  readonly values: ReturnSettings;
}

export type SettingsAnswer =
  | { readonly ok: true }
  | { readonly ok: false; readonly reason: ProposalRefusal; readonly sentence: string };

const sentences = proposalSentences({
  thing: "version",
  whose: "managers",
  another: "another manager",
  notPast: "a case was judged by the setting of its day.",
});
const refuse = (reason: ProposalRefusal): SettingsAnswer => ({ ok: false, reason, sentence: sentences[reason] });

/** Every version of periods and limits, newest first; null where the person may not ask. */
export async function listSettingsVersions(actor: Actor, now = new Date()): Promise<SettingsVersion[] | null> {
  if (!may(actor, "read-policies")) return null;
  const rows = await asActor(actor, (tx) =>
    tx.returnSetting.findMany({ orderBy: [{ validFrom: "desc" }, { proposedAt: "desc" }] }),
  );
  const read = rows.map((row) => ({
    ...row,
    from: fromDateColumn(row.validFrom),
    settings: returnSettingsSchema.parse(row.values),
  }));
  const approved = read.filter(({ state }) => state === "approved");
  const today = civilDateAt(now, "UTC");
  const inForce = approved.find(({ from }) => from <= today);
  return read.map((row) => {
    const before = approved.find(({ from, version }) => from <= row.from && version !== row.version);
    return {
      version: row.version,
      validFrom: row.from,
      isInForce: row.version === inForce?.version,
      inWords: settingsInWords(row.settings),
      changes: before === undefined ? null : settingsChanged(before.settings, row.settings),
      values: row.settings,
      ...twoPeople(actor, row),
    };
  });
}

/** Proposes a version. It counts for nothing until another manager approves it, and never begins before today. */
export async function proposeSettings(
  actor: Actor,
  { version, validFrom, why, values }: SettingsProposal,
  now = new Date(),
): Promise<SettingsAnswer> {
  if (!may(actor, "propose-policy")) return refuse("not-allowed");
  const refused = await keepProposal(actor, validFrom, now, (tx) =>
    tx.returnSetting.create({
      data: { version, validFrom: toDateColumn(validFrom), values, why, ...proposedBy(actor, now) },
      select: { id: true },
    }),
  );
  return refused === null ? { ok: true } : refuse(refused);
}

/** Approves or drops a proposal; whoever proposed it never approves it. */
export async function settleSettings(
  actor: Actor,
  version: string,
  verdict: Verdict,
  now = new Date(),
): Promise<SettingsAnswer> {
  if (!may(actor, "approve-policy")) return refuse("not-allowed");
  const answer = await settleProposal(actor, {
    verdict,
    now,
    find: (tx) => tx.returnSetting.findUnique({ where: { version } }),
    whyNotApproved: (row) => firstDayIsOver(row, now),
    save: (tx, _row, columns) => tx.returnSetting.updateMany({ where: { version, state: "proposed" }, data: columns }),
    dayIndex: "ReturnSetting_one_approved_a_day",
  });
  return answer.ok ? answer : refuse(answer.reason);
}
