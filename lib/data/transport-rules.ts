import "server-only";
import { createHash } from "node:crypto";
import { z } from "zod";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { storableText } from "@/lib/returns/storable-text";
import { transportRules } from "@/lib/transport/rules-of-the-house";
import { asActor, type Transaction } from "./database";
import { breaksUnique } from "./unique-violation";

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
export const ruleFingerprint = createHash("sha256").update(JSON.stringify(transportRules)).digest("hex");

export interface RulesInForce {
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

/** The rules in force, and whether the adviser confirmed exactly these sentences. */
export async function rulesInForce(tx: Transaction): Promise<RulesInForce> {
  const { version, owner, validFrom } = transportRules;
  const confirmation = await tx.transportRuleConfirmation.findUnique({
    where: { version_fingerprint: { version, fingerprint: ruleFingerprint } },
    select: {
      adviserName: true,
      adviserQualification: true,
      statement: true,
      recordedByName: true,
      confirmedAt: true,
    },
  });
  return { version, fingerprint: ruleFingerprint, owner, validFrom, confirmation };
}

export function readRulesInForce(actor: Actor): Promise<RulesInForce> {
  return asActor(actor, rulesInForce);
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
  if (seenFingerprint !== ruleFingerprint) {
    return { ok: false, sentence: "The rules changed while this page was open. Read them as they are now." };
  }
  try {
    await asActor(actor, (tx) =>
      tx.transportRuleConfirmation.create({
        data: {
          ...confirmation,
          version: transportRules.version,
          fingerprint: ruleFingerprint,
          recordedByUserId: actor.userId,
          recordedByName: actor.name,
          confirmedAt: now,
        },
      }),
    );
    return { ok: true };
  } catch (error) {
    if (breaksUnique(error, "fingerprint")) return { ok: false, sentence: "These rules were confirmed before." };
    throw error;
  }
}
