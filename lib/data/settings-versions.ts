import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type ReturnSettings, returnSettingsSchema } from "@/lib/returns/return-settings.schema";
import type { SettingsProposal } from "@/lib/returns/settings-proposal.schema";
import { settingsChanged, settingsInWords } from "@/lib/returns/settings-words";
import { type CalendarDate, compareDates } from "@/lib/warranty/calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { fromDateColumn, toDateColumn } from "./calendar-columns";
import { asActor } from "./database";
import { breaksUnique } from "./unique-violation";

export interface SettingsVersion {
  readonly version: string;
  readonly validFrom: CalendarDate;
  readonly state: "proposed" | "approved" | "dropped";
  /** In force today. */
  readonly isInForce: boolean;
  readonly inWords: readonly { readonly what: string; readonly value: string }[];
  /** Against the approved version that began before it; null for the first. */
  readonly changes: readonly string[] | null;
  readonly values: ReturnSettings;
  readonly why: string;
  readonly proposedByName: string | null;
  readonly proposedAt: Date;
  readonly settledByName: string | null;
  readonly settledAt: Date | null;
  readonly isOwnProposal: boolean;
}

type Refusal = "not-allowed" | "version-taken" | "day-taken" | "day-past" | "not-found" | "same-person" | "settled";
export type SettingsAnswer =
  | { readonly ok: true }
  | { readonly ok: false; readonly reason: Refusal; readonly sentence: string };

const sentences: Readonly<Record<Refusal, string>> = {
  "not-allowed": "Periods and limits are set by managers.",
  "version-taken": "There is a version of this name already.",
  "day-taken": "Another approved version begins on the same day.",
  "day-past": "A version begins today or later: a case was judged by the setting of its day.",
  "not-found": "There is no such version.",
  "same-person": "You proposed this version, so another manager approves it.",
  settled: "This version is settled already.",
};
const refuse = (reason: Refusal): SettingsAnswer => ({ ok: false, reason, sentence: sentences[reason] });

/** Every version of periods and limits, newest first; null where the person may not ask. */
export async function listSettingsVersions(actor: Actor, now = new Date()): Promise<SettingsVersion[] | null> {
  if (!may(actor, "propose-policy")) return null;
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
      state: readState(row.state),
      isInForce: row.version === inForce?.version,
      inWords: settingsInWords(row.settings),
      changes: before === undefined ? null : settingsChanged(before.settings, row.settings),
      values: row.settings,
      why: row.why,
      proposedByName: row.proposedByName,
      proposedAt: row.proposedAt,
      settledByName: row.settledByName,
      settledAt: row.settledAt,
      isOwnProposal: row.proposedByUserId === actor.userId,
    };
  });
}

function readState(stored: string): SettingsVersion["state"] {
  if (stored === "proposed" || stored === "approved" || stored === "dropped") return stored;
  throw new RangeError(`state of a setting: ${stored} is unknown`);
}

/** Proposes a version. It counts for nothing until another manager approves it, and never begins before today. */
export async function proposeSettings(
  actor: Actor,
  { version, validFrom, why, values }: SettingsProposal,
  now = new Date(),
): Promise<SettingsAnswer> {
  if (!may(actor, "propose-policy")) return refuse("not-allowed");
  if (compareDates(validFrom, civilDateAt(now, "UTC")) < 0) return refuse("day-past");
  const by = { proposedByUserId: actor.userId, proposedByName: actor.name, proposedAt: now };
  try {
    await asActor(actor, (tx) =>
      tx.returnSetting.create({
        data: { version, validFrom: toDateColumn(validFrom), values, why, state: "proposed", ...by },
        select: { id: true },
      }),
    );
    return { ok: true };
  } catch (error) {
    if (breaksUnique(error, "version")) return refuse("version-taken");
    throw error;
  }
}

/** Approves or drops a proposal; whoever proposed it never approves it. */
export async function settleSettings(
  actor: Actor,
  version: string,
  verdict: "approved" | "dropped",
  now = new Date(),
): Promise<SettingsAnswer> {
  if (!may(actor, "approve-policy")) return refuse("not-allowed");
  try {
    return await asActor(actor, async (tx) => {
      const row = await tx.returnSetting.findUnique({ where: { version } });
      if (row === null) return refuse("not-found");
      if (row.state !== "proposed") return refuse("settled");
      if (verdict === "approved" && row.proposedByUserId === actor.userId) return refuse("same-person");
      const isPast = compareDates(fromDateColumn(row.validFrom), civilDateAt(now, "UTC")) < 0;
      if (verdict === "approved" && isPast) return refuse("day-past");
      const { count } = await tx.returnSetting.updateMany({
        where: { version, state: "proposed" },
        data: { state: verdict, settledByUserId: actor.userId, settledByName: actor.name, settledAt: now },
      });
      return count === 1 ? { ok: true } : refuse("settled");
    });
  } catch (error) {
    if (breaksUnique(error, "ReturnSetting_one_approved_a_day") || breaksUnique(error, "validFrom"))
      return refuse("day-taken");
    throw error;
  }
}
