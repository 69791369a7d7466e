import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type ProposalRefusal, proposalSentences, type Verdict } from "@/lib/access/two-people";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { policyInForce, type WarrantyPolicy, warrantyPolicySchema } from "@/lib/warranty/policy.schema";
import type { PolicyProposal } from "@/lib/warranty/policy-proposal.schema";
import { policyInWords } from "@/lib/warranty/policy-words";
import { type ShadowRun, shadowRun, shadowSentence } from "@/lib/warranty/replay";
import { asActor } from "../database";
import { firstDayIsOver, keepProposal, proposedBy, settleProposal, type TwoPeople, twoPeople } from "../two-people";
import { readKeptAnswers } from "./kept-answers";
import { readPolicies, termColumns, toPolicy } from "./policy-columns";

export interface PolicyView extends TwoPeople {
  readonly version: string;
  readonly validFrom: CalendarDate;
  readonly inWords: readonly string[];
  readonly shadowSentence: string | null;
}

export type PolicyAnswer =
  | { readonly ok: true }
  | { readonly ok: false; readonly reason: ProposalRefusal; readonly sentence: string };

const sentences = proposalSentences({
  thing: "version",
  whose: "managers",
  another: "another manager",
  notPast: "what was promised before stays promised.",
});
const refuse = (reason: ProposalRefusal): PolicyAnswer => ({ ok: false, reason, sentence: sentences[reason] });

/** Every version, newest first: what is promised, what was, what is proposed. Null where the person may not ask. */
export async function listPolicies(actor: Actor): Promise<PolicyView[] | null> {
  if (!may(actor, "read-policies")) return null;
  const rows = await asActor(actor, (tx) => tx.warrantyPolicy.findMany({ orderBy: [{ validFrom: "desc" }] }));
  return rows.map((row) => {
    const policy = toPolicy(row);
    const { version, validFrom } = policy;
    return {
      version,
      validFrom,
      inWords: policyInWords(policy),
      shadowSentence: row.shadowSentence,
      ...twoPeople(actor, row),
    };
  });
}

/** What a proposal starts from: the version in force today, and before the first one what the program comes with. */
export async function termsToStartFrom(actor: Actor, now = new Date()): Promise<WarrantyPolicy> {
  const today = civilDateAt(now, "UTC");
  const versions = await asActor(actor, readPolicies);
  return (
    policyInForce(versions, today) ?? warrantyPolicySchema.parse({ version: "first", validFrom: today, months: 24 })
  );
}

/**
 * Proposes a new version. It counts for nothing until another manager approves it, and it never begins before today: a
 * pack keeps the promise that held on the day it was sold.
 */
export async function proposePolicy(actor: Actor, proposal: PolicyProposal, now = new Date()): Promise<PolicyAnswer> {
  if (!may(actor, "propose-policy")) return refuse("not-allowed");
  const { why, ...terms } = proposal;
  const refused = await keepProposal(actor, terms.validFrom, now, (tx) =>
    tx.warrantyPolicy.create({ data: { ...termColumns(terms), why, ...proposedBy(actor, now) } }),
  );
  return refused === null ? { ok: true } : refuse(refused);
}

/** What a proposed version would have answered to every past complaint whose facts are kept. Null where there is none. */
export async function shadowRunOf(actor: Actor, version: string): Promise<ShadowRun | null> {
  if (!may(actor, "read-policies")) return null;
  return asActor(actor, async (tx) => {
    const row = await tx.warrantyPolicy.findUnique({ where: { version } });
    return row === null ? null : shadowRun(await readKeptAnswers(tx), toPolicy(row));
  });
}

/** Approves or drops a proposal. The shadow run of this moment is kept with it. */
export async function settlePolicy(
  actor: Actor,
  version: string,
  verdict: Verdict,
  now = new Date(),
): Promise<PolicyAnswer> {
  if (!may(actor, "approve-policy")) return refuse("not-allowed");
  const answer = await settleProposal(actor, {
    verdict,
    now,
    find: (tx) => tx.warrantyPolicy.findUnique({ where: { version } }),
    whyNotApproved: (row) => firstDayIsOver(row, now),
    save: async (tx, row, columns) =>
      tx.warrantyPolicy.updateMany({
        where: { version, state: "proposed" },
        data: {
          ...columns,
          shadowSentence: shadowSentence(shadowRun(await readKeptAnswers(tx), toPolicy(row))),
        },
      }),
    dayIndex: "WarrantyPolicy_one_approved_a_day",
  });
  return answer.ok ? answer : refuse(answer.reason);
}
