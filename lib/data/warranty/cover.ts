import "server-only";
import type { Absence } from "@/lib/warranty/absences";
import type { CalendarDate } from "@/lib/warranty/calendar";
import type { Cover } from "@/lib/warranty/cover";
import type { CoverFacts, StartFacts } from "@/lib/warranty/cover-facts.schema";
import { COVER_RULES_VERSION } from "@/lib/warranty/cover-rules";
import type { LegalDuty } from "@/lib/warranty/legal-duty";
import type { WarrantyPolicy } from "@/lib/warranty/policy.schema";
import { coverByPolicyOfSale } from "@/lib/warranty/policy-of-sale";
import { type OtherClocks, otherClocks } from "@/lib/warranty/three-clocks";
import { whatWouldChange } from "@/lib/warranty/would-change";
import { toOptionalDateColumn } from "../calendar-columns";
import type { Transaction } from "../database";
import { type ChainFacts, readChainFacts } from "../packs/chain-facts";
import type { PackFacts } from "../packs/pack-facts";
import { readHolidayRules } from "../safety/holiday-calendars";
import { readPolicies } from "./policy-columns";

/** What a page shows of a cover answer. */
export interface CoverView {
  readonly outcome: Cover["outcome"];
  readonly startsOn: string | null;
  readonly endsOn: CalendarDate | null;
  readonly evidence: string | null;
  readonly policyVersion: string;
  readonly because: readonly string[];
  readonly wouldChange: readonly string[];
  readonly clocks: OtherClocks;
}

export interface StatedSale {
  readonly soldOn: CalendarDate;
  readonly proven: boolean;
}

export type CoveredPack = Pick<PackFacts, "rootBuiltOn" | "start" | "replacements"> &
  Partial<Pick<PackFacts, "saleCountry" | "buyerKind">>;

interface Complaint {
  readonly toldOn: CalendarDate;
  readonly today?: CalendarDate;
  readonly stated: StatedSale | null;
  readonly symptom?: string;
}

/** An answer with everything it was drawn from. */
export interface CoverAnswer {
  readonly cover: Cover;
  readonly facts: CoverFacts;
  readonly wouldChange: readonly string[];
}

/**
 * The cover of a pack for a complaint told on a day, under the policy in force when the first pack of the chain was sold (or
 * built, where no sale is known). What the dealer states counts beside what is recorded. Give it a system transaction, because the
 * chain's earlier returns and the field actions are not this dealer's to see; only the answer drawn from them is.
 */
export async function answerCover(
  tx: Transaction,
  pack: CoveredPack & Pick<PackFacts, "packId" | "revision" | "saleZone">,
  complaint: Complaint,
): Promise<CoverAnswer> {
  const chain = await readChainFacts(tx, pack, complaint);
  const holidays = await readHolidayRules(tx, pack.saleCountry, complaint.today ?? complaint.toldOn);
  const facts = { ...factsOf(pack, complaint, chain), ...(holidays.length === 0 ? {} : { holidays }) };
  const policies = await readPolicies(tx);
  const { cover, policy } = coverByPolicyOfSale(facts, policies, pack.rootBuiltOn);
  return { cover, facts, wouldChange: whatWouldChange(facts, { policy, policies }, cover) };
}

/** The same where the policies are at hand, by the dates, the time away and the holidays: field actions and earlier returns are left out. */
export function coverUnder(
  policies: readonly WarrantyPolicy[],
  pack: CoveredPack,
  complaint: Complaint,
  { absences, holidays }: { readonly absences: readonly Absence[]; readonly holidays: readonly string[] },
): Cover {
  const chain = { earlierReturns: [], fieldActions: [], absences: [...absences] };
  const facts = { ...factsOf(pack, complaint, chain), holidays: [...holidays] };
  return coverByPolicyOfSale(facts, policies, pack.rootBuiltOn).cover;
}

function factsOf(pack: CoveredPack, complaint: Complaint, chain: ChainFacts): CoverFacts {
  const { toldOn, today, stated, symptom } = complaint;
  const start = stated === null ? pack.start : withStated(pack.start, stated);
  const { replacements, saleCountry, buyerKind } = pack;
  return { start, toldOn, today, symptom, replacements, saleCountry, buyerKind, ...chain };
}

/** A day that was proven stands beside those proven before: where they are at odds the rules of the guarantee weigh them. */
function withStated(start: StartFacts, { soldOn, proven }: StatedSale): StartFacts {
  return proven ? { ...start, provenOn: [...(start.provenOn ?? []), soldOn] } : { ...start, statedOn: soldOn };
}

export function coverView(
  { cover, facts, wouldChange }: CoverAnswer,
  { dealerCountry, duties }: { readonly dealerCountry: string; readonly duties: readonly LegalDuty[] },
): CoverView {
  const { outcome, startsOn, endsOn, evidence, policyVersion, because } = cover;
  const clocks = otherClocks({ ...cover, facts, dealerCountry, duties });
  return { outcome, startsOn, endsOn, evidence, policyVersion, because, wouldChange, clocks };
}

/** The answer as it was given on this day, with its facts: later rules do not rewrite it, and it can be given again. */
export function whatCoverSays({ cover, facts, wouldChange }: CoverAnswer) {
  return {
    coverOutcome: cover.outcome,
    coverStartsOn: toOptionalDateColumn(cover.startsOn),
    coverEndsOn: toOptionalDateColumn(cover.endsOn),
    coverEvidence: cover.evidence,
    coverPolicyVersion: cover.policyVersion,
    coverBecause: [...cover.because],
    coverSettlementStartsOn: toOptionalDateColumn(cover.settlement?.startsOn ?? null),
    coverSettlementEndsOn: toOptionalDateColumn(cover.settlement?.endsOn ?? null),
    coverFacts: JSON.parse(JSON.stringify(facts)),
    coverRulesVersion: COVER_RULES_VERSION,
    coverWouldChange: [...wouldChange],
  };
}
