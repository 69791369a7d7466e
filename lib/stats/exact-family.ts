/**
 * Which of two exact families a test and its limits come from. Test and limits must be of one family, or they contradict
 * each other: the two-sided p-value many programs print adds up all outcomes no likelier than the one seen, while their
 * limits are central, and then p can be 0.037 with limits that hold a ratio of 1.
 *
 * "central": p is twice the smaller tail, the outcome seen included; limits leave half of (1 - confidence) on each side.
 * Never wrong more often than promised. The choice of this program where nothing is said.
 * "mid-p": only half of the probability of the outcome seen is added to its tail, in p and in the limits alike. Wrong about
 * as often as promised, on average over truths; at some truths a little more often.
 * Source: Berry & Armitage, The Statistician 44 (1995) 417-423; Fay, R Journal 2 (2010) 53-58.
 */
export type ExactFamily = "central" | "mid-p";

/** Two-sided p-value from both tails, each with the outcome seen inside, and the probability of that outcome. */
export function twoSidedP(
  tails: { readonly atLeast: number; readonly atMost: number; readonly exactly: number },
  family: ExactFamily,
): number {
  const part = family === "mid-p" ? tails.exactly / 2 : 0;
  return Math.min(1, 2 * Math.min(tails.atLeast - part, tails.atMost - part));
}
