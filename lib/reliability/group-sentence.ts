import { type CompareBy, compareByWords } from "./compare-by";
import type { CannotTellReason, FailureEstimate } from "./failure-estimate";
import { grouped, inHundred, inHundredBetween, packsInWords } from "./plain-share";
import { type Allowance, fewDelaysClause } from "./reporting";

interface GroupFacts {
  readonly by: CompareBy;
  readonly group: string;
  readonly inService: number;
  readonly failures: number;
  readonly undecidedReturns: number;
  /** With what is not confirmed yet allowed for, where a delay is known of. */
  readonly estimates: readonly FailureEstimate[];
  readonly allowance: Allowance | null;
}

/**
 * What a group's numbers say, for a reader without statistics: what happened, then the oldest age up to 12 months at
 * which something can be said, else the youngest age and why nothing can be said yet.
 */
export function groupSentence(facts: GroupFacts): string {
  if (facts.inService === 0) return `No pack of ${nameOf(facts)} has been in use long enough to count.`;
  return [happened(facts), ...undecided(facts), ...outlook(facts)].join(" ");
}

function nameOf({ by, group }: GroupFacts): string {
  return `${compareByWords[by].one} ${group}`;
}

function happened(facts: GroupFacts): string {
  const { inService, failures } = facts;
  const failed = failures === 0 ? "none has failed" : `${grouped(failures)} ${failures === 1 ? "has" : "have"} failed`;
  return `Of ${packsInWords(inService)} of ${nameOf(facts)} in service, ${failed}.`;
}

function undecided({ undecidedReturns }: GroupFacts): string[] {
  if (undecidedReturns === 0) return [];
  return [
    undecidedReturns === 1
      ? "1 return is still undecided and not counted as a failure."
      : `${grouped(undecidedReturns)} returns are still undecided and not counted as failures.`,
  ];
}

/** Beyond a year a young revision has little to say; a year is what revisions are most often asked about. */
const HEADLINE_MONTHS = 12;

function outlook({ estimates, allowance }: GroupFacts): string[] {
  const asked = estimates.filter((estimate) => estimate.months <= HEADLINE_MONTHS);
  const tellable = asked.findLast((estimate) => estimate.kind === "estimate") ?? asked[0];
  if (tellable === undefined) return [];
  return [tellable.kind === "estimate" ? estimateSentence(tellable, allowance) : cannotTellSentence(tellable)];
}

/** "By 12 months in use about 2.4 in 100 fail (…)" */
function estimateSentence(
  estimate: Extract<FailureEstimate, { kind: "estimate" }>,
  allowance: Allowance | null,
): string {
  const { months, probability, lower, upper, atRisk } = estimate;
  const share = probability < 0.0005 ? inHundred(probability) : `about ${inHundred(probability)}`;
  const watched = `${packsInWords(atRisk)} ${atRisk === 1 ? "has" : "have"} reached that age`;
  const delay = allowance === null ? "" : `; what is not confirmed yet is allowed for${fewDelaysClause(allowance)}`;
  return `By ${months} months in use ${share} fail (with 95 % confidence ${inHundredBetween(lower, upper)}; ${watched}${delay}).`;
}

/** "It is too early to say what share fails by 12 months in use: …" */
function cannotTellSentence(estimate: Extract<FailureEstimate, { kind: "cannot-tell" }>): string {
  const start = `It cannot be said yet what share fails by ${estimate.months} months in use:`;
  const because = cannotTellClause(estimate.reason, estimate.atRisk, estimate.failures);
  const bound =
    estimate.soFar !== null && estimate.atRisk > 0 && estimate.soFar.upper < 1
      ? ` So far, at most ${inHundred(estimate.soFar.upper)} (95 % confidence).`
      : "";
  return `${start} ${because}.${bound}`;
}

/** The reason alone, to stand after a colon: "only 12 packs have reached that age". */
export function cannotTellClause(reason: CannotTellReason, atRisk: number, failures: number): string {
  switch (reason) {
    case "age-not-reached":
      return "no pack has been in use that long";
    case "nobody-watched-at-this-age":
      return "at some age up to then not one pack was under observation";
    case "early-packs-used-up":
      return "the few packs watched from the start have all failed, and those watched later cannot stand in for them";
    case "few-at-risk":
      return atRisk === 1 ? "only 1 pack has reached that age" : `only ${atRisk} packs have reached that age`;
    case "too-little-known":
      return "of most packs that have reached that age a failure there would not be confirmed yet";
    case "few-failures":
      if (failures === 0) return "none of the packs watched so far has failed";
      return failures === 1 ? "it rests on a single failure" : `it rests on only ${failures} failures`;
    default: {
      const never: never = reason;
      return never;
    }
  }
}
