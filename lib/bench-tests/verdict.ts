import { placesKnown } from "@/lib/diagnosis/quantity-words";
import type { TestLimits } from "./test-definition.schema";

export const verdicts = ["inside", "outside", "cannot-tell"] as const;
export type Verdict = (typeof verdicts)[number];

export const verdictWords: Readonly<Record<Verdict, string>> = {
  inside: "Inside",
  outside: "Outside",
  "cannot-tell": "Cannot tell",
};

/** Where the rule of `judgeNumber` comes from; shown beside the verdicts. */
export const DECISION_RULE_SOURCE =
  "Decision rule after ISO 14253-1 and JCGM 106 (from memory: verify in both), with an expanded uncertainty of coverage factor 2.";

interface Measured {
  readonly value: number;
  /** Coverage factor 2: about 95 of 100 such intervals hold the true value. Same unit as the value. */
  readonly expandedUncertainty: number;
}

/**
 * Whether a measured value keeps its limits, the uncertainty considered: inside where the whole interval
 * [value - U, value + U] lies within the limits, outside where none of it does, cannot tell where it straddles a limit.
 * So neither a pack is called sound nor faulty by chance. A limit itself counts as inside. RangeError for a number that is
 * not finite or an uncertainty below zero. Source: DECISION_RULE_SOURCE.
 */
export function judgeNumber(
  { value, expandedUncertainty }: Measured,
  { lower, upper }: Pick<TestLimits, "lower" | "upper">,
): Verdict {
  if (!Number.isFinite(value)) throw new RangeError("a measured value is a finite number");
  if (!(expandedUncertainty >= 0)) throw new RangeError("an expanded uncertainty is 0 or more");
  const least = value - expandedUncertainty;
  const most = value + expandedUncertainty;
  if ((lower !== null && most < lower) || (upper !== null && least > upper)) return "outside";
  if ((lower === null || least >= lower) && (upper === null || most <= upper)) return "inside";
  return "cannot-tell";
}

/** What somebody saw at a test without a number. */
export const seenChoices = ["as-expected", "not-as-expected", "cannot-tell"] as const;
export type Seen = (typeof seenChoices)[number];

export const seenWords: Readonly<Record<Seen, string>> = {
  "as-expected": "As it should be",
  "not-as-expected": "Not as it should be",
  "cannot-tell": "I cannot tell",
};

export function judgeSeen(seen: Seen): Verdict {
  switch (seen) {
    case "as-expected":
      return "inside";
    case "not-as-expected":
      return "outside";
    case "cannot-tell":
      return "cannot-tell";
    default: {
      const never: never = seen;
      return never;
    }
  }
}

/** The verdict as one sentence with its numbers, e.g. "0.82 ± 0.03 mΩ lies above the upper limit of 0.60 mΩ". */
export function sayVerdict(measured: Measured, limits: Pick<TestLimits, "lower" | "upper">, unit: string): string {
  const figure = `${sayMeasured(measured)} ${unit}`;
  const verdict = judgeNumber(measured, limits);
  const { lower, upper } = limits;
  if (verdict === "inside") return `${figure} keeps its limits (${sayLimits(limits, unit)}).`;
  const missesLower = lower !== null && measured.value - measured.expandedUncertainty < lower;
  const side = missesLower ? `lower limit of ${sayNumber(lower)}` : `upper limit of ${sayNumber(upper ?? Number.NaN)}`;
  if (verdict === "outside") return `${figure} lies ${missesLower ? "below the" : "above the"} ${side} ${unit}.`;
  return `${figure} straddles the ${side} ${unit}: measure it again with a surer instrument, or say that it cannot be told.`;
}

export function sayLimits({ lower, upper }: Pick<TestLimits, "lower" | "upper">, unit: string): string {
  if (lower !== null && upper !== null) return `${sayNumber(lower)} to ${sayNumber(upper)} ${unit}`;
  if (lower !== null) return `${sayNumber(lower)} ${unit} or more`;
  return `${sayNumber(upper ?? Number.NaN)} ${unit} or less`;
}

/**
 * A value with its uncertainty, the uncertainty to two significant digits and the value to the same place: more would
 * pretend to be known (JCGM 100, 7.2.6; from memory: verify there).
 */
export function sayMeasured({ value, expandedUncertainty }: Measured, say: (shown: number) => string = String): string {
  if (expandedUncertainty === 0) return `${say(Number(sayNumber(value)))} ± 0`;
  const places = placesKnown(expandedUncertainty);
  return `${say(Number(value.toFixed(places)))} ± ${say(Number(expandedUncertainty.toPrecision(2)))}`;
}

/** Four significant digits, without an exponent for the sizes a bench meets. */
export function sayNumber(value: number): string {
  return String(Number(value.toPrecision(4)));
}
