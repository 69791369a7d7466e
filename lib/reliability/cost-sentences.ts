import { roundAmount, sayRoundMoney } from "@/lib/settlement/money";
import type { ForetoldCost } from "./cost-forecast";
import type { FailureCost, KnownCost } from "./failure-cost";
import { sayExpected } from "./forecast-sentences";
import type { CostTotal } from "./priced-forecast";

/** "12,300 EUR, between 7,900 and 18,200 EUR". */
export function sayCost({ expected, lower, upper, currency }: ForetoldCost): string {
  return `${sayRoundMoney(expected, currency)}, between ${roundAmount(lower, currency)} and ${sayRoundMoney(upper, currency)}`;
}

/** The cost of one failure with its limits, spread and count. */
export function sayMeanCost({ mean, lower, upper, spread, decided, of, currency, beside }: KnownCost): string {
  return `${sayRoundMoney(mean, currency)} (between ${roundAmount(lower, currency)} and ${sayRoundMoney(upper, currency)}); single ones spread by ${sayRoundMoney(spread, currency)}; remedies of ${decided} decided failures of ${of} within cover${beside.kind === "unknown" ? "; without the returns in which no failure is confirmed" : ""}`;
}

/** What was decided after the end of cover and is in no cost; empty where nothing was. */
export function afterCoverSentence({ afterCover }: KnownCost): string {
  if (afterCover === 0) return "";
  const one = afterCover === 1;
  return `${afterCover} ${one ? "return" : "returns"} told after the end of cover ${one ? "was" : "were"} decided besides: ${one ? "it is" : "they are"} not in it, because forecast and reserve count failures within cover alone.`;
}

/** What else comes back beside a failure, and whether its cost is in that of the failure. */
export function besideSentence({ beside, decided, currency }: KnownCost): string {
  const { returns, ratio, lower, upper } = beside;
  const many = `For 100 confirmed failures ${hundredfold(ratio)} returns come in which none is confirmed: no fault found, outside cause, refused (95 % limits ${hundredfold(lower)} to ${hundredfold(upper)}, from ${returns} beside ${decided}).`;
  if (beside.kind === "unknown") return `${many} Their cost is not in it. ${beside.sentences.join(" ")}`;
  if (returns === 0) return `${many} So far they cost nothing.`;
  return `${many} Their cost, ${sayRoundMoney(beside.mean, currency)} each on average, is in that of a failure.`;
}

function hundredfold(ratio: number): string {
  return String(Math.round(ratio * 100));
}

/** The cost part of the answer, after the sentence about the failures. */
export function costSentence(total: CostTotal | null): string {
  if (total === null) return "What they will cost cannot be told yet.";
  const which =
    total.unpriced.length === 0 ? "They" : `The ${sayExpected(total.failures)} of them of which the cost is known`;
  return `${which} will cost ${sayCost(total)} (95 % limits).`;
}

/** Which revisions are in no cost; empty where all are in it, or none is known. */
export function costCaveat(total: CostTotal | null): string {
  if (total === null || total.unpriced.length === 0) return "";
  return `${total.unpriced.join(", ")} ${total.unpriced.length === 1 ? "is" : "are"} not in the cost: what a failure costs there is not known.`;
}

/** Why the cost is unknown, one sentence for each thing missing; none where it is known. */
export function missingCost(cost: FailureCost): readonly string[] {
  return cost.kind === "unknown" ? cost.sentences : [];
}
