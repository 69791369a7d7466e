import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type CalendarDate, compareDates } from "@/lib/warranty/calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import type { WarrantyPolicy } from "@/lib/warranty/policy.schema";
import type { PolicyProposal } from "@/lib/warranty/policy-proposal.schema";
import { policyInWords } from "@/lib/warranty/policy-words";
import { type ShadowRun, shadowRun, shadowSentence } from "@/lib/warranty/replay";
import { asActor, type Transaction } from "./database";
import { readKeptAnswers } from "./kept-answers";
import { termColumns, toPolicy } from "./policy-columns";
import { breaksUnique } from "./unique-violation";

export interface PolicyView {
  readonly version: string;
  readonly validFrom: CalendarDate;
  readonly state: "proposed" | "approved" | "dropped";
  readonly inWords: readonly string[];
  readonly why: string;
  readonly proposedByName: string | null;
  readonly proposedAt: Date;
  readonly settledByName: string | null;
  readonly settledAt: Date | null;
  readonly shadowSentence: string | null;
  readonly isOwnProposal: boolean;
}

export type PolicyAnswer =
  | { readonly ok: true }
  | {
      readonly ok: false;
      readonly reason:
        | "not-allowed"
        | "version-taken"
        | "day-taken"
        | "day-past"
        | "not-found"
        | "same-person"
        | "settled";
      readonly sentence: string;
    };

function refuse(reason: Extract<PolicyAnswer, { ok: false }>["reason"], sentence: string): PolicyAnswer {
  return { ok: false, reason, sentence };
}

/** Every version, newest first: what is promised, what was, what is proposed. Null where the person may not ask. */
export async function listPolicies(actor: Actor): Promise<PolicyView[] | null> {
  if (!may(actor, "propose-policy")) return null;
  const rows = await asActor(actor, (tx) => tx.warrantyPolicy.findMany({ orderBy: [{ validFrom: "desc" }] }));
  return rows.map((row) => {
    const policy = toPolicy(row);
    return {
      version: policy.version,
      validFrom: policy.validFrom,
      state: readState(row.state),
      inWords: policyInWords(policy),
      why: row.why,
      proposedByName: row.proposedByName,
      proposedAt: row.proposedAt,
      settledByName: row.settledByName,
      settledAt: row.settledAt,
      shadowSentence: row.shadowSentence,
      isOwnProposal: row.proposedByUserId === actor.userId,
    };
  });
}

function readState(stored: string): PolicyView["state"] {
  if (stored === "proposed" || stored === "approved" || stored === "dropped") return stored;
  throw new RangeError(`state of a policy: ${stored} is unknown`);
}

/**
 * Proposes a new version. It counts for nothing until another manager approves it, and it never begins before today: a
 * pack keeps the promise that held on the day it was sold.
 */
export async function proposePolicy(actor: Actor, proposal: PolicyProposal, now = new Date()): Promise<PolicyAnswer> {
  if (!may(actor, "propose-policy")) return refuse("not-allowed", "A version is proposed by a manager.");
  const { why, ...terms } = proposal;
  if (compareDates(terms.validFrom, civilDateAt(now, "UTC")) < 0)
    return refuse("day-past", "A version begins today or later: what was promised before stays promised.");
  try {
    await asActor(actor, (tx) =>
      tx.warrantyPolicy.create({
        data: {
          ...termColumns(terms),
          state: "proposed",
          why,
          proposedByUserId: actor.userId,
          proposedByName: actor.name,
          proposedAt: now,
        },
      }),
    );
    return { ok: true };
  } catch (error) {
    if (breaksUnique(error, "version")) return refuse("version-taken", "There is a version of this name already.");
    throw error;
  }
}

/** What a proposed version would have answered to every past complaint whose facts are kept. Null where there is none. */
export async function shadowRunOf(actor: Actor, version: string): Promise<ShadowRun | null> {
  if (!may(actor, "propose-policy")) return null;
  return asActor(actor, async (tx) => {
    const row = await tx.warrantyPolicy.findUnique({ where: { version } });
    return row === null ? null : shadowRun(await readKeptAnswers(tx), toPolicy(row));
  });
}

/** Approves or drops a proposal. Whoever proposed it never approves it; the shadow run of this moment is kept with it. */
export async function settlePolicy(
  actor: Actor,
  version: string,
  verdict: "approved" | "dropped",
  now = new Date(),
): Promise<PolicyAnswer> {
  if (!may(actor, "approve-policy")) return refuse("not-allowed", "A version is approved by a manager.");
  try {
    return await asActor(actor, async (tx) => {
      const row = await tx.warrantyPolicy.findUnique({ where: { version } });
      if (row === null) return refuse("not-found", "There is no such version.");
      if (row.state !== "proposed") return refuse("settled", "This version is settled already.");
      if (verdict === "approved" && row.proposedByUserId === actor.userId)
        return refuse("same-person", "You proposed this version, so another manager approves it.");
      const policy = toPolicy(row);
      if (verdict === "approved" && compareDates(policy.validFrom, civilDateAt(now, "UTC")) < 0)
        return refuse("day-past", "Its first day has passed meanwhile. Drop it and propose it anew.");
      return settle(tx, actor, policy, verdict, now);
    });
  } catch (error) {
    if (breaksUnique(error, "WarrantyPolicy_one_approved_a_day") || breaksUnique(error, "validFrom"))
      return refuse("day-taken", "Another approved version begins on the same day.");
    throw error;
  }
}

async function settle(
  tx: Transaction,
  actor: Actor,
  policy: WarrantyPolicy,
  state: "approved" | "dropped",
  now: Date,
): Promise<PolicyAnswer> {
  const { count } = await tx.warrantyPolicy.updateMany({
    where: { version: policy.version, state: "proposed" },
    data: {
      state,
      settledByUserId: actor.userId,
      settledByName: actor.name,
      settledAt: now,
      shadowSentence: shadowSentence(shadowRun(await readKeptAnswers(tx), policy)),
    },
  });
  return count === 1 ? { ok: true } : refuse("settled", "Somebody settled this version meanwhile.");
}
