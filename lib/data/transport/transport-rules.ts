import "server-only";
import { createHash } from "node:crypto";
import { z } from "zod";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { noticeLanguageOf } from "@/lib/notices/notice-kinds";
import { storableText } from "@/lib/returns/storable-text";
import { type DealerScripts, dealerScripts } from "@/lib/transport/dealer-script";
import { type TransportRules, transportRulesSchema } from "@/lib/transport/rule-set.schema";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { fromDateColumn, toDateColumn } from "../calendar-columns";
import { asActor, type Transaction } from "../database";
import { breaksUnique } from "../unique-violation";

/** What the safety officer records when the adviser has confirmed the rules. */
export const ruleConfirmationSchema = z.object({
  adviserName: storableText({ least: 3, most: 120, tooShort: "Name the adviser.", tooLong: "At most 120 characters." }),
  adviserQualification: storableText({
    least: 3,
    most: 200,
    tooShort: "Give the certificate and the day until which it holds.",
    tooLong: "At most 200 characters.",
  }),
  statement: storableText({
    least: 10,
    most: 2000,
    tooShort: "Write what the adviser compared and confirmed, and where that is filed.",
    tooLong: "At most 2000 characters.",
  }),
});
export type RuleConfirmation = z.output<typeof ruleConfirmationSchema>;

/** SHA-256 over the whole rule set: one changed word is another rule set, whatever its version says. */
export function fingerprintOf(rules: TransportRules): string {
  return createHash("sha256").update(JSON.stringify(rules)).digest("hex");
}

interface RuleRow {
  readonly version: string;
  readonly validFrom: Date;
  readonly content: unknown;
}

export const ruleSelect = { version: true, validFrom: true, content: true } as const;

/** The rule set of a row. Its fields always come in the order of the schema, so that its fingerprint is one. */
export function toTransportRules({ version, validFrom, content }: RuleRow): TransportRules {
  return transportRulesSchema.parse({
    ...z.looseObject({}).parse(content),
    version,
    validFrom: fromDateColumn(validFrom),
  });
}

export interface RulesInForce {
  readonly rules: TransportRules;
  readonly version: string;
  readonly fingerprint: string;
  readonly owner: string;
  readonly validFrom: string;
  readonly confirmation: {
    readonly adviserName: string;
    readonly adviserQualification: string;
    readonly statement: string;
    readonly recordedByName: string;
    readonly confirmedAt: Date;
  } | null;
}

/**
 * The rules in force on a day, and whether the adviser confirmed exactly these sentences. Throws RangeError where none had
 * begun, because a rule of transport must never be invented.
 */
export async function rulesInForce(tx: Transaction, day: CalendarDate): Promise<RulesInForce> {
  const row = await tx.transportRuleVersion.findFirst({
    where: { state: "approved", validFrom: { lte: toDateColumn(day) } },
    orderBy: { validFrom: "desc" },
    select: ruleSelect,
  });
  if (row === null) throw new RangeError(`transport rules: none in force on ${day}`);
  const rules = toTransportRules(row);
  const { version, owner, validFrom } = rules;
  const fingerprint = fingerprintOf(rules);
  const confirmation = await tx.transportRuleConfirmation.findUnique({
    where: { version_fingerprint: { version, fingerprint } },
    select: {
      adviserName: true,
      adviserQualification: true,
      statement: true,
      recordedByName: true,
      confirmedAt: true,
    },
  });
  return { rules, version, fingerprint, owner, validFrom, confirmation };
}

/** The rules a class was declared under, whatever is in force today; null where they are not kept as they were. */
export async function rulesOfDeclaration(
  tx: Transaction,
  { ruleVersion, ruleFingerprint }: { readonly ruleVersion: string; readonly ruleFingerprint: string },
): Promise<TransportRules | null> {
  const row = await tx.transportRuleVersion.findUnique({ where: { version: ruleVersion }, select: ruleSelect });
  const rules = row === null ? null : toTransportRules(row);
  return rules !== null && fingerprintOf(rules) === ruleFingerprint ? rules : null;
}

/** For the pages of the rules: what is in force on a day of the house. */
export function readRulesInForce(actor: Actor, now = new Date()): Promise<RulesInForce> {
  return asActor(actor, (tx) => rulesInForce(tx, civilDateAt(now, "UTC")));
}

/** What a dealer is told to do with a pack that shows signs of danger, and with one that shows none; in its language too. */
export async function readDealerScripts(actor: Actor, now = new Date()): Promise<DealerScripts> {
  const { dealerId } = actor;
  const dealer =
    dealerId === null
      ? null
      : await asActor(actor, (tx) => tx.dealer.findUnique({ where: { id: dealerId }, select: { country: true } }));
  const { rules } = await readRulesInForce(actor, now);
  return dealerScripts(rules, noticeLanguageOf(null, dealer?.country ?? null));
}

export type ConfirmRulesAnswer = { readonly ok: true } | { readonly ok: false; readonly sentence: string };

/** Records that the adviser confirmed the rules in force. Once for each rule set; a new version is confirmed anew. */
export async function confirmTransportRules(
  actor: Actor,
  seenFingerprint: string,
  confirmation: RuleConfirmation,
  now = new Date(),
): Promise<ConfirmRulesAnswer> {
  if (!may(actor, "confirm-transport-rules")) {
    return { ok: false, sentence: "The safety officer records that the adviser confirmed the rules." };
  }
  try {
    return await asActor(actor, async (tx): Promise<ConfirmRulesAnswer> => {
      const { version, fingerprint } = await rulesInForce(tx, civilDateAt(now, "UTC"));
      if (seenFingerprint !== fingerprint) {
        return { ok: false, sentence: "The rules changed while this page was open. Read them as they are now." };
      }
      const by = { recordedByUserId: actor.userId, recordedByName: actor.name, confirmedAt: now };
      await tx.transportRuleConfirmation.create({ data: { ...confirmation, version, fingerprint, ...by } });
      return { ok: true };
    });
  } catch (error) {
    if (breaksUnique(error, "TransportRuleConfirmation_version_fingerprint_key"))
      return { ok: false, sentence: "These rules were confirmed before." };
    throw error;
  }
}
