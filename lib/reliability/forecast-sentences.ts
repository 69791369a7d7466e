import { type CalendarDate, plusDays } from "@/lib/warranty/calendar";
import { sayDate } from "@/lib/warranty/say-date";
import type { CoverBasis } from "./cover-basis";
import type { CoverForecast, CoverForecastRefusal } from "./cover-forecast";
import type { TimeBeyond } from "./cover-spans";
import { FEWEST_FOR_LAW } from "./failure-law";
import type { ForecastTotal } from "./forecast-total";
import { grouped, packsInWords } from "./plain-share";

const refusals: Readonly<Record<CoverForecastRefusal, string>> = {
  "nothing-running": "no pack of it is in use under cover",
  "too-few-failures": `too few failures: fewer than ${FEWEST_FOR_LAW} carry no law of failing, and the others of its model lend it none`,
  "no-law": "its failures fit no law: their ages do not bound one",
  "horizon-beyond-observed-ages": "what is settled of it does not reach so far",
  "mostly-beyond-observed-ages": "most of it would fall at ages older than what is settled of it",
  "fit-too-uncertain": "its law is too uncertain to give limits",
  "too-few-watched": "too few packs of it have been watched long enough to say how many it could be at most",
};

/** Smaller numbers of failures round to nothing. */
export const LEAST_UNREPORTED_TOLD = 0.05;

/** Why nothing is foretold, as the end of "cannot tell yet: ...". */
export function forecastRefusalClause(reason: CoverForecastRefusal): string {
  return refusals[reason];
}

/** The same of first returns, whose law is one of coming back. */
export function returnsRefusalClause(reason: CoverForecastRefusal): string {
  if (reason === "too-few-failures")
    return `too few returns: fewer than ${FEWEST_FOR_LAW} carry no law of coming back, and the others of its model lend it none`;
  return reason === "no-law" ? "its returns fit no law: their ages do not bound one" : refusals[reason];
}

/** The same, with how far ahead it can be told today and about when it will reach so far. */
export function forecastRefusalWords(
  { reason, tellable: { forDays, earliestInDays } }: Extract<CoverForecast, { kind: "refused" }>,
  dataDate: CalendarDate,
): string {
  const earliest =
    earliestInDays === null
      ? ""
      : `, on ${sayDate(plusDays(dataDate, earliestInDays))} at the earliest while failures are confirmed as late as now`;
  const ahead =
    forDays === null ? "" : `; up to ${forDays === 1 ? "1 day" : `${grouped(forDays)} days`} ahead it can be told`;
  return `${forecastRefusalClause(reason)}${earliest}${ahead}`;
}

/** A number of failures that is an expectation: one decimal while it is small. */
export function sayExpected(expected: number): string {
  return expected < 9.95 ? expected.toFixed(1) : grouped(Math.round(expected));
}

/** What is foretold: confirmed failures, or first returns whatever comes of them. */
export type Foretold = "failures" | "returns";

const foretoldWords = {
  failures: { few: "failures", how: "the risk changes", it: "it fails", they: "they fail" },
  returns: { few: "first returns", how: "coming back changes", it: "it comes back", they: "they come back" },
} as const satisfies Record<Foretold, unknown>;

/** Which revisions of a total have too few failures, or returns, for a law of their own; empty where none. Begins with a blank. */
export function lentSentence({ lent }: Pick<ForecastTotal, "lent">, of: Foretold = "failures"): string {
  if (lent.length === 0) return "";
  const { few, how, it, they } = foretoldWords[of];
  const one = lent.length === 1;
  const [its, itFails] = one ? ["its", it] : ["their", they];
  return ` The total of ${few} includes ${one ? "revision" : "revisions"} ${lent.join(", ")} with fewer than ${FEWEST_FOR_LAW}: how ${how} with age is taken from the others of ${its} model. The number expected rests on ${its} own few, drawn towards the rate of those others: if ${itFails} more often than those do, it is too low. The upper limit rests on ${its} own few alone.`;
}

/** What a law rests on beside the failures, or returns, of its own; empty where on nothing. */
export function lentWords({ law }: Pick<CoverBasis, "law">, of: Foretold = "failures"): string {
  if ("refused" in law || !law.lent) return "";
  const { few, it } = foretoldWords[of];
  return `change with age (shape ${law.shape.toFixed(2)}) lent by the ${grouped(law.lent.ofLenders)} ${few} of the others of its model; expected number drawn towards their rate, too low if ${it} more often`;
}

/** Of which revisions nothing is in a total, and why; empty where it holds all. Begins with a blank. */
export function leftOutSentence({ leftOut, packsLeftOut }: Pick<ForecastTotal, "leftOut" | "packsLeftOut">): string {
  if (leftOut.length === 0) return "";
  const one = leftOut.length === 1;
  return ` ${one ? "Revision" : "Revisions"} ${sayGroups(leftOut)} ${one ? "is" : "are"} not in it (${packsInWords(packsLeftOut)} under cover): ${leftOutReason(leftOut)}.`;
}

export function sayGroups(leftOut: ForecastTotal["leftOut"]): string {
  return leftOut.map(({ group }) => group).join(", ");
}

/** Waiting mends what reaches too far ahead; where failures are missing it need not. */
export function leftOutReason(leftOut: ForecastTotal["leftOut"]): string {
  const ofAges = leftOut.filter(({ isOfAges }) => isOfAges);
  const others = leftOut.filter(({ isOfAges }) => !isOfAges);
  const tooFar = (of: string) => `nothing can be told of ${of} so far ahead yet`;
  const noLaw = (whose: string) =>
    `${whose} carry no forecast (fewer than ${FEWEST_FOR_LAW} and no law lent by others of the model, or too few packs watched for a limit, or of ages that fit no law)`;
  const one = leftOut.length === 1;
  if (others.length === 0) return tooFar(one ? "it" : "them");
  if (ofAges.length === 0) return noLaw(one ? "its failures" : "their failures");
  return `${tooFar(sayGroups(ofAges))}, and ${noLaw(`the failures of ${sayGroups(others)}`)}`;
}

/** The answer of the page in one sentence. */
export function forecastSentence(total: ForecastTotal | null, months: number): string {
  if (total === null) return `Nothing can be foretold for the next ${months} months yet.`;
  const { expected, lower, upper } = total;
  return `In the next ${months} months ${sayExpected(expected)} confirmed failures within cover are to be expected, between ${grouped(lower)} and ${grouped(upper)} (95 % limits).`;
}

/** What is to be known beside that answer; empty where nothing is. */
export function forecastCaveats(total: ForecastTotal | null): string {
  if (total === null) return "";
  const { unreported, beyond } = total;
  const onTheirWay =
    unreported < LEAST_UNREPORTED_TOLD
      ? ""
      : `About ${sayExpected(unreported)} of them have happened and are still on their way to us.`;
  const older =
    beyond.packs === 0
      ? ""
      : ` Besides, ${packsInWords(beyond.packs)} will be older than what is settled of their revision for ${sayMonths(beyond.packMonths)} of that time: nothing is foretold of these.`;
  return `${onTheirWay}${older}${lentSentence(total)}${leftOutSentence(total)}`.trim();
}

export function sayMonths(packMonths: number): string {
  const months = Math.max(1, Math.round(packMonths));
  return months === 1 ? "1 pack-month" : `${grouped(months)} pack-months`;
}

/** Time at ages older than what is settled, for a cell of a table. */
export function sayBeyond({ packs, packMonths }: TimeBeyond): string {
  return packs === 0 ? "none" : `${packsInWords(packs)}, ${sayMonths(packMonths)}: nothing foretold`;
}
