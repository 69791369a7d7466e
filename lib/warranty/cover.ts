import { type CalendarDate, compareDates } from "./calendar";
import { chooseStart } from "./choose-start";
import type { CoverFacts } from "./cover-facts.schema";
import { type CountingRules, countingRulesInForce } from "./cover-rules";
import { coverWindow, type DatedOutcome } from "./cover-window";
import type { StartEvidence, WarrantyPolicy } from "./policy.schema";
import { type Repeat, repeatReturn } from "./repeat-return";
import { sayDate } from "./say-date";
import { deemedStart, type Start } from "./start-evidence";

/** Stands in every answer: the maker's guarantee is only one of the clocks that run for a customer. */
export const LEGAL_RIGHTS = "Legal rights against the seller are not affected.";

export const coverOutcomes = [
  "in-cover",
  "in-cover-by-grace",
  "covered-by-field-action",
  "outside-makers-guarantee",
  "cannot-tell-yet",
] as const;
export type CoverOutcome = (typeof coverOutcomes)[number];

/** An outcome as it was stored. @throws RangeError where nobody here wrote it. */
export function readCoverOutcome(stored: string): CoverOutcome {
  const outcome = coverOutcomes.find((known) => known === stored);
  if (outcome === undefined) throw new RangeError(`coverOutcome: ${stored} is unknown`);
  return outcome;
}

export type UnknownReason =
  | "no-start-known"
  | "only-the-shelf-limit-known"
  | "only-an-estimate-known"
  | "evidence-conflicts"
  | "told-before-start"
  | "told-in-future"
  | "replaced-before-start";

/** The window that counts between maker and dealer alone. */
export interface SettlementWindow {
  readonly startsOn: CalendarDate;
  readonly endsOn: CalendarDate;
  readonly graceEndsOn: CalendarDate;
}

interface CommonToCovers {
  readonly toldOn: CalendarDate;
  /** The earlier window for maker and dealer alone, where the policy limits the time on the shelf; else null. */
  readonly settlement: SettlementWindow | null;
  /** Null where no repair or replacement was tried before. */
  readonly repeat: Repeat | null;
  readonly policyVersion: string;
  readonly because: readonly string[];
}

export interface KnownCover extends CommonToCovers {
  readonly outcome: DatedOutcome;
  readonly startsOn: CalendarDate;
  /** Last day of cover, included; grace comes on top. */
  readonly endsOn: CalendarDate;
  readonly graceEndsOn: CalendarDate;
  readonly evidence: StartEvidence;
}

/** An open field action covers the pack whatever the dates say; the dates are given where they are known. */
export interface FieldActionCover extends CommonToCovers {
  readonly outcome: "covered-by-field-action";
  readonly startsOn: CalendarDate | null;
  readonly endsOn: CalendarDate | null;
  readonly graceEndsOn: CalendarDate | null;
  readonly evidence: StartEvidence | null;
}

export interface UnknownCover extends CommonToCovers {
  readonly outcome: "cannot-tell-yet";
  readonly reason: UnknownReason;
  readonly startsOn: CalendarDate | null;
  readonly endsOn: null;
  readonly evidence: StartEvidence | null;
}

export type Cover = KnownCover | FieldActionCover | UnknownCover;

/**
 * Whether the maker's guarantee covers what the customer told, on calendar dates alone: no clock, no zone, no opinion
 * on causes, which are judged elsewhere. It speaks of the maker's guarantee only, never of rights against the seller.
 * A limit to the time on the shelf settles between maker and dealer and is never used to refuse a consumer.
 */
export function coverOf(facts: CoverFacts, policy: WarrantyPolicy, rules = countingRulesInForce): Cover {
  const dated = coverByDates(facts, policy, rules);
  const repeat = repeatReturn(facts, facts.earlierReturns ?? []);
  const remarks = [...(repeat === null ? [] : [repeat.sentence]), LEGAL_RIGHTS];
  const actions = facts.fieldActions ?? [];
  if (actions.length === 0 || isNonsense(dated)) return { ...dated, repeat, because: [...dated.because, ...remarks] };
  const named = actions.map(({ title }) => `“${title}”`).join(", ");
  return {
    outcome: "covered-by-field-action",
    startsOn: dated.startsOn,
    endsOn: dated.endsOn,
    graceEndsOn: dated.outcome === "cannot-tell-yet" ? null : dated.graceEndsOn,
    evidence: dated.evidence,
    toldOn: dated.toldOn,
    settlement: dated.settlement,
    repeat,
    policyVersion: dated.policyVersion,
    because: [
      `An open field action covers this pack whatever the dates say: ${named}.`,
      "By the dates alone:",
      ...dated.because,
      ...remarks,
    ],
  };
}

/** A day that cannot be right is corrected first, field action or not. */
function isNonsense(dated: KnownCover | UnknownCover): boolean {
  return dated.outcome === "cannot-tell-yet" && dated.reason === "told-in-future";
}

function coverByDates(facts: CoverFacts, policy: WarrantyPolicy, rules: CountingRules): KnownCover | UnknownCover {
  const { toldOn, today } = facts;
  const settlement = settlementWindow(facts, policy);
  const answer = { toldOn, settlement: null, repeat: null, policyVersion: policy.version };
  const unknown = (reason: UnknownReason, because: readonly string[], start: Start | null = null): UnknownCover => ({
    ...answer,
    outcome: "cannot-tell-yet",
    reason,
    startsOn: start?.startsOn ?? null,
    endsOn: null,
    evidence: start?.evidence ?? null,
    because,
  });
  if (today !== undefined && compareDates(toldOn, today) > 0) {
    return unknown("told-in-future", [`${sayDate(toldOn)} is still to come. Correct the day the customer told you.`]);
  }
  const chosen = chooseStart(facts.start, toldOn, policy, (start) => coverWindow(start, facts, policy).outcome, rules);
  if (chosen.kind === "none") return unknown("no-start-known", [chosen.because]);
  if (chosen.kind === "conflict") return unknown("evidence-conflicts", chosen.because, chosen.start);
  const { start, because } = chosen;
  const disorder = start.isEstimate ? null : outOfOrder(start, facts);
  if (disorder !== null) return unknown(disorder.reason, [...because, disorder.sentence], start);

  const window = coverWindow(start, facts, policy);
  if (start.settlementOnly && window.outcome === "outside-makers-guarantee") {
    const asked = unknown("only-the-shelf-limit-known", [
      ...because,
      ...window.because.slice(0, -1),
      NOT_FOR_CONSUMERS,
    ]);
    return { ...asked, startsOn: start.startsOn, evidence: start.evidence, settlement };
  }
  if (start.isEstimate && !start.settlementOnly && window.outcome === "outside-makers-guarantee") {
    const asked = unknown("only-an-estimate-known", [
      ...because,
      ...window.because.slice(0, -1),
      NO_REFUSAL_BY_ESTIMATE,
    ]);
    return { ...asked, startsOn: start.startsOn, evidence: start.evidence, settlement };
  }
  const isEarlier = settlement !== null && compareDates(settlement.startsOn, start.startsOn) < 0;
  return {
    ...answer,
    ...window,
    startsOn: start.startsOn,
    evidence: start.evidence,
    settlement: isEarlier || start.settlementOnly ? settlement : null,
    because: [
      ...because,
      ...window.because,
      ...(start.isEstimate ? [ASK_FOR_PROOF] : []),
      ...(isEarlier
        ? [
            `Between maker and dealer alone the time counts from ${sayDate(settlement.startsOn)} and ends on ${sayDate(settlement.endsOn)}, because of the long time on the shelf; the customer's does not.`,
          ]
        : []),
      ...dispatchAfterSale(start, facts),
    ],
  };
}

const NOT_FOR_CONSUMERS =
  "No day of delivery to the customer is known. The limit to the time on the shelf settles between maker and dealer only and must not be used to refuse a consumer: ask for the proof of purchase.";
const NO_REFUSAL_BY_ESTIMATE =
  "No day of delivery to the customer is known, and nobody is refused on an estimate: ask for the proof of purchase.";
const ASK_FOR_PROOF = "No day of delivery to the customer is known yet: ask for the proof of purchase.";

// A complaint or a replacement before an estimated start contradicts nothing: the pack was sold earlier than estimated.
function outOfOrder(start: Start, facts: CoverFacts): { reason: UnknownReason; sentence: string } | null {
  const startWords = `the start on ${sayDate(start.startsOn)}: one of the two days is wrong.`;
  if (compareDates(facts.toldOn, start.startsOn) < 0) {
    return { reason: "told-before-start", sentence: `Told on ${sayDate(facts.toldOn)}, before ${startWords}` };
  }
  const early = facts.replacements?.find(({ deliveredOn }) => compareDates(deliveredOn, start.startsOn) < 0);
  if (early === undefined) return null;
  return {
    reason: "replaced-before-start",
    sentence: `Replaced on ${sayDate(early.deliveredOn)}, before ${startWords}`,
  };
}

/** It does not move the customer's window, so it is said rather than refused. */
function dispatchAfterSale(start: Start, { start: { dispatchedOn } }: CoverFacts): string[] {
  if (start.isEstimate || dispatchedOn === undefined || compareDates(dispatchedOn, start.startsOn) <= 0) return [];
  return [`The dispatch recorded on ${sayDate(dispatchedOn)} lies after the sale: one of the two days is wrong.`];
}

function settlementWindow(facts: CoverFacts, policy: WarrantyPolicy): SettlementWindow | null {
  const deemed = deemedStart(facts.start, policy);
  if (deemed === null) return null;
  const { endsOn, graceEndsOn } = coverWindow(deemed, facts, policy);
  return { startsOn: deemed.startsOn, endsOn, graceEndsOn };
}
