import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { readReturnReference } from "@/lib/returns/return-reference";
import type { CalendarDate } from "@/lib/warranty/calendar";
import type { LegalDuty } from "@/lib/warranty/legal-duty";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import type { WarrantyPolicy } from "@/lib/warranty/policy.schema";
import { policyForSale } from "@/lib/warranty/policy-of-sale";
import { graceOf, type KeptAnswer, type Replay, replay } from "@/lib/warranty/replay";
import { type LawReplay, replayLaw } from "@/lib/warranty/replay-law";
import { fromDateColumn, fromOptionalDateColumn } from "../calendar-columns";
import { asActor, type Transaction } from "../database";
import { readLegalDuties } from "./legal-duties-held";
import { readPolicies } from "./policy-columns";

const keptSelect = {
  coverOutcome: true,
  coverStartsOn: true,
  coverEndsOn: true,
  coverEvidence: true,
  coverPolicyVersion: true,
  coverRulesVersion: true,
  coverFacts: true,
  coverSettlementStartsOn: true,
  coverSettlementEndsOn: true,
} as const;

/** Every answer that stands, with the facts it was drawn from; one replaced by a proof of sale binds nobody any more. */
export async function readKeptAnswers(tx: Transaction): Promise<KeptAnswer[]> {
  const policies = await readPolicies(tx);
  return (await tx.return.findMany({ select: keptSelect })).map(toKept).map((kept) => withGrace(kept, policies));
}

/** The end of grace is not kept; the same facts under the version they were answered by give it again, if the counting rules stand. */
function withGrace(kept: KeptAnswer, policies: readonly WarrantyPolicy[]): KeptAnswer {
  const again = underItsVersion(kept, policies);
  return again.kind === "replayed" && !again.rulesChanged ? { ...kept, graceEndsOn: graceOf(again.cover) } : kept;
}

function toKept(row: {
  coverOutcome: string;
  coverStartsOn: Date | null;
  coverEndsOn: Date | null;
  coverEvidence: string | null;
  coverPolicyVersion: string;
  coverRulesVersion: string | null;
  coverFacts: unknown;
  coverSettlementStartsOn: Date | null;
  coverSettlementEndsOn: Date | null;
}): KeptAnswer {
  const from = fromOptionalDateColumn(row.coverSettlementStartsOn);
  const to = fromOptionalDateColumn(row.coverSettlementEndsOn);
  return {
    settlement: from === null || to === null ? null : { startsOn: from, endsOn: to },
    outcome: row.coverOutcome,
    startsOn: fromOptionalDateColumn(row.coverStartsOn),
    endsOn: fromOptionalDateColumn(row.coverEndsOn),
    evidence: row.coverEvidence,
    policyVersion: row.coverPolicyVersion,
    rulesVersion: row.coverRulesVersion,
    facts: row.coverFacts,
  };
}

function earlierAnswer(row: {
  outcome: string;
  startsOn: Date | null;
  endsOn: Date | null;
  evidence: string | null;
  policyVersion: string;
  rulesVersion: string | null;
  facts: unknown;
}): KeptAnswer {
  const { outcome, evidence, policyVersion, rulesVersion, facts } = row;
  const startsOn = fromOptionalDateColumn(row.startsOn);
  return {
    outcome,
    startsOn,
    endsOn: fromOptionalDateColumn(row.endsOn),
    evidence,
    policyVersion,
    rulesVersion,
    facts,
  };
}

export interface ReplayedAnswer {
  readonly kept: Omit<KeptAnswer, "facts">;
  /** Under the version and the counting rules it was given under. */
  readonly thatDay: Replay;
  /** Under the version and the counting rules in force today, as if the pack were sold under it. */
  readonly today: Replay;
  /** The seller's legal duty beside it; null where the facts were not kept. */
  readonly law: LawReplay | null;
}

/** The answer that stands, and those that a proof of sale replaced, oldest first. */
export interface ReplayedReturn extends ReplayedAnswer {
  readonly reference: string;
  readonly todayVersion: string;
  readonly earlier: readonly (ReplayedAnswer & { readonly number: number })[];
}

/** The answers on one return given again under the rules of their days and of today; null where there is none for this person. */
export async function replayReturn(actor: Actor, typed: string, now = new Date()): Promise<ReplayedReturn | null> {
  const reading = readReturnReference(typed);
  if (reading.kind !== "reference" || !may(actor, "propose-policy")) return null;
  const { reference } = reading;
  return asActor(actor, async (tx) => {
    const row = await tx.return.findUnique({
      where: { reference },
      select: {
        ...keptSelect,
        toldOn: true,
        dealer: { select: { country: true } },
        earlierCovers: { orderBy: { number: "asc" } },
      },
    });
    if (row === null) return null;
    const policies = await readPolicies(tx);
    const today = civilDateAt(now, "UTC");
    const inForce = policyForSale(policies, today);
    const { earlierCovers, toldOn, dealer, ...standing } = row;
    const rules: RulesHeld = {
      policies,
      inForce,
      toldOn: fromDateColumn(toldOn),
      dealerCountry: dealer.country,
      duties: await readLegalDuties(tx),
      today,
    };
    return {
      ...replayedAnswer(toKept(standing), rules),
      reference,
      todayVersion: inForce.version,
      earlier: earlierCovers.map((one) => ({
        ...replayedAnswer(earlierAnswer(one), rules),
        number: one.number,
      })),
    };
  });
}

/** What one return's answers are given again under. */
interface RulesHeld {
  readonly policies: readonly WarrantyPolicy[];
  readonly inForce: WarrantyPolicy;
  readonly toldOn: CalendarDate;
  readonly dealerCountry: string;
  readonly duties: readonly LegalDuty[];
  readonly today: CalendarDate;
}

function replayedAnswer(kept: KeptAnswer, { policies, inForce, ...law }: RulesHeld): ReplayedAnswer {
  const { facts: _, ...shown } = kept;
  const today = replay(withGrace(kept, policies), inForce, "of-today");
  return { kept: shown, thatDay: underItsVersion(kept, policies), today, law: replayLaw(kept, today, law) };
}

function underItsVersion(kept: KeptAnswer, policies: readonly WarrantyPolicy[]): Replay {
  const ofItsDay = policies.find(({ version }) => version === kept.policyVersion);
  return ofItsDay === undefined ? { kind: "inputs-not-kept" } : replay(kept, ofItsDay, "of-its-day");
}

export interface ReplayOfAll {
  readonly answers: number;
  readonly withoutFacts: number;
  /** Answers that come out differently under the very version and counting rules they were given under. */
  readonly differing: readonly { readonly reference: string; readonly replay: Extract<Replay, { kind: "replayed" }> }[];
}

/** Every past answer given again under the version and the counting rules of its day. Null where the person may not ask. */
export async function replayAll(actor: Actor): Promise<ReplayOfAll | null> {
  if (!may(actor, "propose-policy")) return null;
  return asActor(actor, async (tx) => {
    const policies = await readPolicies(tx);
    const rows = await tx.return.findMany({
      select: { ...keptSelect, reference: true, earlierCovers: true },
      orderBy: { lodgedAt: "desc" },
    });
    const answers = rows.flatMap(({ reference, earlierCovers, ...row }) =>
      [toKept(row), ...earlierCovers.map(earlierAnswer)].map((kept) => ({ reference, kept })),
    );
    const again = answers.map(({ reference, kept }) => ({ reference, answer: underItsVersion(kept, policies) }));
    const replayed = again.flatMap(({ reference, answer }) =>
      answer.kind === "replayed" ? [{ reference, replay: answer }] : [],
    );
    return {
      answers: replayed.length,
      withoutFacts: answers.length - replayed.length,
      differing: replayed.filter(({ replay: { differences } }) => differences.length > 0),
    };
  });
}
