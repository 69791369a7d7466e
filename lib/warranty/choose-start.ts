import { type CalendarDate, compareDates, daysBetween } from "./calendar";
import type { StartFacts } from "./cover-facts.schema";
import type { WarrantyPolicy } from "./policy.schema";
import { sayDate } from "./say-date";
import { type Start, startsFromEvidence } from "./start-evidence";

export type ChosenStart =
  | { readonly kind: "start"; readonly start: Start; readonly because: readonly string[] }
  | { readonly kind: "conflict"; readonly start: Start; readonly because: readonly string[] }
  | { readonly kind: "none"; readonly because: string };

/**
 * The start to count from. The best evidence wins. Where statements about the delivery to the customer differ by no
 * more than the policy's gap, the later day is taken, which is the one in the customer's favour. Where they lie
 * further apart the best one stands only if every reading gives the same outcome; otherwise somebody must ask.
 * Estimates (distributor's sale, dispatch) never contradict a delivery.
 */
export function chooseStart(
  facts: StartFacts,
  toldOn: CalendarDate,
  policy: Pick<WarrantyPolicy, "stockAgeCapMonths" | "evidenceOrder" | "evidenceGapDays">,
  outcomeOf: (start: Start) => string,
): ChosenStart {
  const starts = startsFromEvidence(facts, toldOn, policy);
  const [best] = starts;
  if (best === undefined) return { kind: "none", because: whatIsMissing(facts) };
  const rivals = starts.filter((start) => !start.isEstimate && !best.isEstimate && start.startsOn !== best.startsOn);
  if (rivals.length === 0) return { kind: "start", start: best, because: [best.because] };

  const because = [best.because, ...rivals.map((rival) => rival.because)];
  const isNear = rivals.every(
    (rival) => Math.abs(daysBetween(best.startsOn, rival.startsOn)) <= policy.evidenceGapDays,
  );
  if (isNear) {
    // A day after the complaint cannot be the delivery, however favourable.
    const possible = [best, ...rivals].filter((start) => compareDates(start.startsOn, toldOn) <= 0);
    const latest = possible.reduce(
      (late, start) => (start.startsOn > late.startsOn ? start : late),
      possible[0] ?? best,
    );
    const favour = `The days differ little, so the one in the customer's favour counts: ${sayDate(latest.startsOn)}.`;
    return { kind: "start", start: latest, because: [...because, favour] };
  }
  const outcomes = new Set([best, ...rivals].map(outcomeOf));
  if (outcomes.size === 1) {
    return {
      kind: "start",
      start: best,
      because: [...because, "The days differ, but every one of them gives the same answer."],
    };
  }
  return {
    kind: "conflict",
    start: best,
    because: [...because, "The days are too far apart to choose: ask for the proof of purchase."],
  };
}

function whatIsMissing(facts: StartFacts): string {
  return facts.dispatchedOn === undefined
    ? "Neither a sale nor a dispatch is known. Ask for the day of delivery and how it is known."
    : "No sale is known, and the policy sets no limit to stock age. Ask for the day of delivery and how it is known.";
}
