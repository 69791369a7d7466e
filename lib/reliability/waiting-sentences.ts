import { costCaveat, costSentence, sayCost } from "./cost-sentences";
import { sayExpected } from "./forecast-sentences";
import type { ForecastTotal } from "./forecast-total";
import { grouped, packsInWords } from "./plain-share";
import type { CostTotal } from "./priced-forecast";
import type { BesideRunning, WaitingTotal } from "./waiting-returns";

/** What the undecided returns come to, in failures and money; they are in no number of the forecast or the reserve. */
export function waitingSentence(undecided: number, total: WaitingTotal | null): string {
  if (undecided === 0) return "No return waits for a decision.";
  const wait = `${undecided === 1 ? "1 return is" : `${grouped(undecided)} returns are`} not decided yet: neither failures nor packs in use, so in none of these numbers.`;
  if (total === null) return `${wait} What they will cost cannot be told: what a failure costs there is not known.`;
  const { returns, failures, cost, leftOut } = total;
  const ofThem = returns === undecided ? "Of them" : `Of ${grouped(returns)} of them`;
  const without =
    leftOut.returns === 0
      ? ""
      : ` Of the ${grouped(leftOut.returns)} of ${leftOut.groups.join(", ")} it cannot be told.`;
  return `${wait} ${ofThem} ${sayExpected(failures.expected)} will be confirmed failures, between ${grouped(failures.lower)} and ${grouped(failures.upper)}, if as many are confirmed as were so far; with the returns that come beside them they will cost ${sayCost(cost)} on top (95 % limits).${without}`;
}

/** Packs that failed once and run again, how many of them fail once more and what that costs: beside the numbers of the forecast. */
export function backInUseSentence(
  revisions: readonly BesideRunning[],
  again: { readonly failures: ForecastTotal; readonly cost: CostTotal | null } | null,
  until: string,
): string {
  const packs = revisions.reduce((total, { backInUse }) => total + backInUse, 0);
  if (packs === 0) return "No pack that was put right after a confirmed failure is in use under cover.";
  const [are, them] = packs === 1 ? ["is", "it"] : ["are", "them"];
  const inUse = `${packsInWords(packs)} put right after a confirmed failure ${are} in use again under cover.`;
  if (again === null)
    return `${inUse} What fails of ${them} again cannot be told; it comes on top of the numbers above, and so does its cost.`;
  const { expected, lower, upper, packsUnderCover } = again.failures;
  const costs = [costSentence(again.cost), costCaveat(again.cost)].filter((sentence) => sentence !== "").join(" ");
  const of = packsUnderCover === packs ? them : `${grouped(packsUnderCover)} of them`;
  const without = packsUnderCover === packs ? "" : " Of the others it cannot be told.";
  return `${inUse} Taken as no better and no worse than had ${packs === 1 ? "it" : "they"} never failed, ${sayExpected(expected)} confirmed failures of ${of} are to be expected again ${until}, between ${grouped(lower)} and ${grouped(upper)} (95 % limits): they come on top of the numbers above, and so does their cost. ${costs}${without}`;
}
