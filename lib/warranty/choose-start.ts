import { type CalendarDate, compareDates, daysBetween } from "./calendar";
import type { StartFacts } from "./cover-facts.schema";
import type { CountingRules } from "./cover-rules";
import type { WarrantyPolicy } from "./policy.schema";
import { sayDate } from "./say-date";
import { type Start, startsFromEvidence } from "./start-evidence";

export type ChosenStart =
  | { readonly kind: "start"; readonly start: Start; readonly because: readonly string[] }
  | { readonly kind: "conflict"; readonly start: Start; readonly because: readonly string[] }
  | { readonly kind: "none"; readonly because: string };

/**
 * The start to count from. The best evidence wins. Where days of the delivery to the customer differ by no more than the
 * policy's gap, the later one is taken, which is the one in the customer's favour. Further apart, a proof that was read
 * outranks what was registered or said, because nothing is left to ask for; the order of the policy says what outranks
 * what. Only two proofs contradict each other then, and a named person chooses. Without any proof somebody asks for one.
 * Where every reading gives the same outcome nobody has to. Estimates (distributor's sale, dispatch) contradict nothing.
 */
export function chooseStart(
  facts: StartFacts,
  toldOn: CalendarDate,
  policy: Pick<WarrantyPolicy, "stockAgeCapMonths" | "evidenceOrder" | "evidenceGapDays">,
  outcomeOf: (start: Start) => string,
  { aProofOutranks }: CountingRules,
): ChosenStart {
  const starts = startsFromEvidence(facts, toldOn, policy);
  const [best] = starts;
  if (best === undefined) return { kind: "none", because: whatIsMissing(facts) };
  const setAside = (facts.setAsideOn ?? []).map(
    (day) => `A proof that shows delivery on ${sayDate(day)} does not count: another one was chosen by name.`,
  );
  const others = starts.filter((start) => !start.isEstimate && !best.isEstimate && start.startsOn !== best.startsOn);
  const isNear = ({ startsOn }: Start) => Math.abs(daysBetween(best.startsOn, startsOn)) <= policy.evidenceGapDays;
  const hasProof = starts.some(({ evidence }) => evidence === "delivery-receipt");
  const isOutranked = (start: Start) =>
    aProofOutranks && hasProof && !isNear(start) && start.evidence !== best.evidence;
  const rivals = others.filter((start) => !isOutranked(start));
  const outranked = others.filter(isOutranked).map(outrankedSentence(best));
  if (rivals.length === 0) return { kind: "start", start: best, because: [best.because, ...outranked, ...setAside] };

  const because = [best.because, ...rivals.map((rival) => rival.because), ...outranked, ...setAside];
  if (rivals.every(isNear)) {
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
  const ask = aProofOutranks && hasProof ? CHOOSE_A_PROOF : ASK_FOR_A_PROOF;
  return { kind: "conflict", start: best, because: [...because, ask] };
}

const ASK_FOR_A_PROOF = "The days are too far apart to choose: ask for the proof of purchase.";
const CHOOSE_A_PROOF =
  "The days on the proofs are too far apart: the service lead looks at them and chooses the one that counts, with the reason.";

function outrankedSentence(best: Start): (start: Start) => string {
  const says = best.evidence === "delivery-receipt" ? "A proof counts before it" : "By the policy it counts for less";
  return ({ because }) => `${because} ${says}, because the days lie too far apart to be one.`;
}

function whatIsMissing(facts: StartFacts): string {
  return facts.dispatchedOn === undefined
    ? "Neither a sale nor a dispatch is known. Ask for the day of delivery and how it is known."
    : "No sale is known, and the policy sets no limit to stock age. Ask for the day of delivery and how it is known.";
}
