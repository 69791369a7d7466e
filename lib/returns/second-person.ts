import type { CoverOutcome } from "@/lib/warranty/cover";
import type { ConsumerChoice } from "@/lib/warranty/legal-prompts";
import { type Decision, deniesRemedy } from "./decision.schema";
import { type GivenBefore, givesBeside } from "./given-before";
import type { ReturnSettings } from "./return-settings.schema";

export type SecondPersonReason =
  | "refusal"
  | "goodwill"
  | "beyond-the-guarantee"
  | "given-before"
  | "refund-above-limit"
  | "against-the-suggestion"
  | "against-earlier-readings"
  | "against-the-choice";

export const secondPersonWords: Readonly<Record<SecondPersonReason, string>> = {
  refusal: "It leaves the customer without a remedy.",
  goodwill: "It gives more than is owed.",
  "beyond-the-guarantee": "The maker's guarantee does not cover this pack, or nobody can tell yet whether it does.",
  "given-before": "The customer was given money or another pack under this complaint before.",
  "refund-above-limit": "The refund is above the limit one person may agree to, or in another currency than the limit.",
  "against-the-suggestion": "It differs from what is suggested.",
  "against-earlier-readings": "Earlier readings of this pack suggest something graver than this.",
  "against-the-choice":
    "It differs from what the customer chose between repair and replacement, which the law may give.",
};

export interface WeighedBeside {
  readonly suggested: string | null;
  /** What the readings before the newest suggested: a newer file does not answer them by looking sound. */
  readonly suggestedBefore: readonly string[];
  readonly cover: CoverOutcome;
  /** What the customer chose after the notice was shown; null where nothing was recorded. */
  readonly choice: ConsumerChoice | null;
  readonly given: GivenBefore;
}

type Weighed = Pick<Decision, "remedy" | "confirmedFault" | "isGoodwill" | "refundMinor" | "refundCurrency">;

/**
 * Why a proposed decision needs a second approver besides the service lead; empty where one is enough. Common practice
 * (four eyes for refusals, goodwill and money), the limit is a dated setting. Setting a pack apart is never held up:
 * the careful answer may be given against any suggestion. A suggestion that "cannot tell" contradicts nothing. What costs
 * the maker a pack, work or money where its guarantee does not hold is goodwill, whether or not the proposer calls it so.
 */
export function whySecondPerson(
  proposal: Weighed,
  { suggested, suggestedBefore, cover, choice, given }: WeighedBeside,
  limit: Pick<ReturnSettings, "refundLimitMinor" | "refundLimitCurrency">,
): SecondPersonReason[] {
  const { remedy } = proposal;
  if (remedy === "isolate") return [];
  const differs = suggested !== null && suggested !== "cannot-tell" && suggested !== remedy;
  return [
    ...(deniesRemedy(proposal) || remedy === "redirect" ? (["refusal"] as const) : []),
    ...(proposal.isGoodwill ? (["goodwill"] as const) : []),
    ...(!proposal.isGoodwill && costsTheMaker(remedy) && !holds(cover) ? (["beyond-the-guarantee"] as const) : []),
    ...(givesBeside(remedy, given) ? (["given-before"] as const) : []),
    ...(remedy === "refund" && isAbove(proposal, limit) ? (["refund-above-limit"] as const) : []),
    ...(differs ? (["against-the-suggestion"] as const) : []),
    ...(suggestedBefore.some((earlier) => isGraver(earlier, remedy)) ? (["against-earlier-readings"] as const) : []),
    ...(isAgainst(remedy, choice) ? (["against-the-choice"] as const) : []),
  ];
}

/**
 * Why help from a distance is not recorded as the end of a return by one person on the dealer's word: as for a proposal of it, but
 * that a suggestion to do less than that is no reason, where the dealer says that it helped.
 */
export function whyNotSolvedByOne(
  decision: Weighed,
  weighed: WeighedBeside,
  limit: Parameters<typeof whySecondPerson>[2],
): SecondPersonReason[] {
  const isMilder = weighed.suggested !== null && !isGraver(weighed.suggested, decision.remedy);
  return whySecondPerson(decision, weighed, limit).filter((why) => why !== "against-the-suggestion" || !isMilder);
}

/** The mildest first: the further on, the less of the pack goes back to riding as it is. */
const byGravity: readonly string[] = ["return-as-is", "remote-fix", "repair", "replace", "isolate"];

function isGraver(suggested: string, remedy: Decision["remedy"]): boolean {
  // Where the pack is given up, nothing of it is left to ride; a refusal or another maker's part asks for a second person anyway.
  return byGravity.includes(remedy) && byGravity.indexOf(suggested) > byGravity.indexOf(remedy);
}

/** What is put right at the dealer's is a repair; money back is neither of the two. */
function isAgainst(remedy: Decision["remedy"], choice: ConsumerChoice | null): boolean {
  if (choice === null || choice === "no-choice") return false;
  const given = { repair: ["repair", "remote-fix"], replacement: ["replace"], refurbished: ["replace"] }[choice];
  return !given.some((fits) => fits === remedy);
}

function costsTheMaker(remedy: Decision["remedy"]): boolean {
  return remedy === "repair" || remedy === "replace" || remedy === "refund";
}

function holds(cover: CoverOutcome): boolean {
  return cover !== "outside-makers-guarantee" && cover !== "cannot-tell-yet";
}

function isAbove(
  { refundMinor, refundCurrency }: Weighed,
  { refundLimitMinor, refundLimitCurrency }: Pick<ReturnSettings, "refundLimitMinor" | "refundLimitCurrency">,
): boolean {
  return refundMinor === undefined || refundMinor > refundLimitMinor || refundCurrency !== refundLimitCurrency;
}
