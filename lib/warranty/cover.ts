import { type CalendarDate, compareDates, daysBetween, plusDays } from "./calendar";
import { chainEnd, type ReplacementDelivery } from "./chain-end";
import { chooseStart } from "./choose-start";
import type { WarrantyPolicy } from "./policy.schema";
import { sayDate, sayDays } from "./say-date";
import { deemedStart, type Start, type StartEvidence, type StartFacts } from "./start-evidence";
import { windowEnd } from "./window-end";

/** Stands in every answer: the maker's guarantee is only one of the clocks that run for a customer. */
export const LEGAL_RIGHTS = "Legal rights against the seller are not affected.";

export interface CoverFacts {
  readonly start: StartFacts;
  /** Day on which the customer told the dealer, on the calendar of the place of sale. */
  readonly toldOn: CalendarDate;
  /** Today at the place of sale; without it a day still to come cannot be noticed. */
  readonly today?: CalendarDate | undefined;
  readonly replacements?: readonly ReplacementDelivery[] | undefined;
}

export type KnownOutcome = "in-cover" | "in-cover-by-grace" | "outside-makers-guarantee";
export type UnknownReason = "no-start-known" | "evidence-conflicts" | "told-before-start" | "told-in-future";

export interface KnownCover {
  readonly outcome: KnownOutcome;
  readonly startsOn: CalendarDate;
  /** Last day of cover, included; grace comes on top. */
  readonly endsOn: CalendarDate;
  readonly graceEndsOn: CalendarDate;
  readonly toldOn: CalendarDate;
  readonly evidence: StartEvidence;
  /** True: settles between maker and dealer only, and must not be used to refuse a consumer. */
  readonly settlementOnly: boolean;
  /** Where the pack stood on the shelf longer than the policy's limit: the earlier window for maker and dealer alone. */
  readonly settlement: { readonly startsOn: CalendarDate; readonly endsOn: CalendarDate } | null;
  readonly policyVersion: string;
  readonly because: readonly string[];
}

export interface UnknownCover {
  readonly outcome: "cannot-tell-yet";
  readonly reason: UnknownReason;
  readonly startsOn: CalendarDate | null;
  readonly endsOn: null;
  readonly toldOn: CalendarDate;
  readonly evidence: StartEvidence | null;
  readonly policyVersion: string;
  readonly because: readonly string[];
}

export type Cover = KnownCover | UnknownCover;

/**
 * Whether the maker's guarantee covers what the customer told, on calendar dates alone: no clock, no zone, no opinion
 * on causes, which are judged elsewhere. It speaks of the maker's guarantee only, never of rights against the seller.
 */
export function coverOf(facts: CoverFacts, policy: WarrantyPolicy): Cover {
  const { toldOn, today } = facts;
  const unknown = (reason: UnknownReason, because: readonly string[], start: Start | null = null): UnknownCover => ({
    outcome: "cannot-tell-yet",
    reason,
    startsOn: start?.startsOn ?? null,
    endsOn: null,
    toldOn,
    evidence: start?.evidence ?? null,
    policyVersion: policy.version,
    because: [...because, LEGAL_RIGHTS],
  });
  if (today !== undefined && compareDates(toldOn, today) > 0) {
    return unknown("told-in-future", [`${sayDate(toldOn)} is still to come. Correct the day the customer told you.`]);
  }
  const chosen = chooseStart(facts.start, toldOn, policy, (start) => judge(start, facts, policy).outcome);
  if (chosen.kind === "none") return unknown("no-start-known", [chosen.because]);
  if (chosen.kind === "conflict") return unknown("evidence-conflicts", chosen.because, chosen.start);
  const { start, because } = chosen;
  // A complaint before an estimated start contradicts nothing: the pack was sold earlier than estimated.
  if (!start.isEstimate && compareDates(toldOn, start.startsOn) < 0) {
    const order = `Told on ${sayDate(toldOn)}, before the start on ${sayDate(start.startsOn)}: one of the two days is wrong.`;
    return unknown("told-before-start", [...because, order], start);
  }
  const cover = judge(start, facts, policy);
  const settlement = longOnShelf(start, facts, policy);
  const shelf =
    settlement === null
      ? []
      : [
          `Between maker and dealer alone the time counts from ${sayDate(settlement.startsOn)}, because of the long time on the shelf; the customer's does not.`,
        ];
  return { ...cover, settlement, because: [...because, ...cover.because, ...shelf, LEGAL_RIGHTS] };
}

function judge(start: Start, facts: CoverFacts, policy: WarrantyPolicy): KnownCover {
  const { toldOn, replacements = [] } = facts;
  const months = start.monthsBefore + policy.months;
  const rootEndsOn = windowEnd(start.countedFrom, months, policy.leapDay);
  const { endsOn, because } = chainEnd(rootEndsOn, replacements, toldOn, policy);
  const graceEndsOn = plusDays(endsOn, policy.graceDays);
  const outcome = outcomeOf(toldOn, endsOn, graceEndsOn);
  const term = `${months} months from ${sayDate(start.countedFrom)} end on ${sayDate(rootEndsOn)}, that day included.`;
  return {
    outcome,
    startsOn: start.startsOn,
    endsOn,
    graceEndsOn,
    toldOn,
    evidence: start.evidence,
    settlementOnly: start.settlementOnly,
    settlement: null,
    policyVersion: policy.version,
    because: [
      term,
      ...because,
      timeliness(outcome, toldOn, endsOn),
      ...(start.settlementOnly ? [SETTLEMENT_ONLY] : []),
    ],
  };
}

function longOnShelf(start: Start, facts: CoverFacts, policy: WarrantyPolicy): KnownCover["settlement"] {
  const deemed = deemedStart(facts.start, policy);
  if (deemed === null || compareDates(deemed.startsOn, start.startsOn) >= 0) return null;
  return { startsOn: deemed.startsOn, endsOn: judge(deemed, facts, policy).endsOn };
}

const SETTLEMENT_ONLY =
  "This start settles between maker and dealer only and must not be used to refuse a consumer: ask for the proof of purchase.";

function outcomeOf(toldOn: CalendarDate, endsOn: CalendarDate, graceEndsOn: CalendarDate): KnownOutcome {
  if (compareDates(toldOn, endsOn) <= 0) return "in-cover";
  return compareDates(toldOn, graceEndsOn) <= 0 ? "in-cover-by-grace" : "outside-makers-guarantee";
}

function timeliness(outcome: KnownOutcome, toldOn: CalendarDate, endsOn: CalendarDate): string {
  const told = `The customer told on ${sayDate(toldOn)}`;
  if (outcome === "in-cover") return `${told}: in time.`;
  const late = `${sayDays(daysBetween(endsOn, toldOn))} after the end`;
  return outcome === "in-cover-by-grace"
    ? `${told}, ${late}: within the days of grace.`
    : `${told}, ${late}: outside the maker's guarantee.`;
}
