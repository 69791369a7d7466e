import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { readReturnReference } from "@/lib/returns/return-reference";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { type KeptAnswer, type Replay, replay } from "@/lib/warranty/replay";
import { fromOptionalDateColumn } from "./calendar-columns";
import { asActor, type Transaction } from "./database";
import { policyForSale, readPolicies } from "./policy-columns";

const keptSelect = {
  coverOutcome: true,
  coverStartsOn: true,
  coverEndsOn: true,
  coverEvidence: true,
  coverPolicyVersion: true,
  coverRulesVersion: true,
  coverFacts: true,
} as const;

/** Every answer given so far, with the facts it was drawn from. */
export async function readKeptAnswers(tx: Transaction): Promise<KeptAnswer[]> {
  return (await tx.return.findMany({ select: keptSelect })).map(toKept);
}

function toKept(row: {
  coverOutcome: string;
  coverStartsOn: Date | null;
  coverEndsOn: Date | null;
  coverEvidence: string | null;
  coverPolicyVersion: string;
  coverRulesVersion: string | null;
  coverFacts: unknown;
}): KeptAnswer {
  return {
    outcome: row.coverOutcome,
    startsOn: fromOptionalDateColumn(row.coverStartsOn),
    endsOn: fromOptionalDateColumn(row.coverEndsOn),
    evidence: row.coverEvidence,
    policyVersion: row.coverPolicyVersion,
    rulesVersion: row.coverRulesVersion,
    facts: row.coverFacts,
  };
}

export interface ReplayedReturn {
  readonly reference: string;
  readonly kept: Omit<KeptAnswer, "facts">;
  /** Under the version it was given under. */
  readonly thatDay: Replay;
  /** Under the version in force today, as if the pack were sold under it. */
  readonly today: Replay;
  readonly todayVersion: string;
}

/** One past answer given again under the rules of its day and of today; null where there is none for this person. */
export async function replayReturn(actor: Actor, typed: string, now = new Date()): Promise<ReplayedReturn | null> {
  const reading = readReturnReference(typed);
  if (reading.kind !== "reference" || !may(actor, "propose-policy")) return null;
  const { reference } = reading;
  return asActor(actor, async (tx) => {
    const row = await tx.return.findUnique({ where: { reference }, select: keptSelect });
    if (row === null) return null;
    const policies = await readPolicies(tx);
    const { facts, ...kept } = toKept(row);
    const inForce = policyForSale(policies, civilDateAt(now, "UTC"));
    const ofItsDay = policies.find(({ version }) => version === kept.policyVersion);
    return {
      reference,
      kept,
      thatDay: ofItsDay === undefined ? { kind: "inputs-not-kept" } : replay({ ...kept, facts }, ofItsDay),
      today: replay({ ...kept, facts }, inForce),
      todayVersion: inForce.version,
    };
  });
}

export interface ReplayOfAll {
  readonly answers: number;
  readonly withoutFacts: number;
  /** Answers that come out differently under the very version they were given under: the counting rules changed. */
  readonly differing: readonly { readonly reference: string; readonly replay: Extract<Replay, { kind: "replayed" }> }[];
}

/** Every past answer given again under the version of its day. Null where the person may not ask. */
export async function replayAll(actor: Actor): Promise<ReplayOfAll | null> {
  if (!may(actor, "propose-policy")) return null;
  return asActor(actor, async (tx) => {
    const policies = new Map((await readPolicies(tx)).map((policy) => [policy.version, policy]));
    const rows = await tx.return.findMany({
      select: { ...keptSelect, reference: true },
      orderBy: { lodgedAt: "desc" },
    });
    const again = rows.map(({ reference, ...row }) => {
      const policy = policies.get(row.coverPolicyVersion);
      const answer: Replay = policy === undefined ? { kind: "inputs-not-kept" } : replay(toKept(row), policy);
      return { reference, answer };
    });
    const replayed = again.flatMap(({ reference, answer }) =>
      answer.kind === "replayed" ? [{ reference, replay: answer }] : [],
    );
    return {
      answers: replayed.length,
      withoutFacts: rows.length - replayed.length,
      differing: replayed.filter(({ replay: { differences } }) => differences.length > 0),
    };
  });
}
