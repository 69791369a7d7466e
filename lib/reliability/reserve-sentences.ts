import type { GroupForecast } from "./cover-forecast";
import { leftOutSentence, lentSentence, sayExpected, sayMonths } from "./forecast-sentences";
import type { ForecastTotal } from "./forecast-total";
import { grouped, packsInWords } from "./plain-share";

/** The answer of the page in one sentence. */
export function reserveSentence(total: ForecastTotal | null): string {
  if (total === null) return "What is still to come until the end of cover cannot be told yet.";
  const { expected, lower, upper } = total;
  return `Of the packs sold to date ${sayExpected(expected)} confirmed failures are still to come within cover up to the ages at which what happened is settled, between ${grouped(lower)} and ${grouped(upper)} (95 % limits).`;
}

/** What is to be known beside that answer; empty where nothing is. */
export function reserveCaveats(total: ForecastTotal | null): string {
  return total === null ? "" : `${lentSentence(total)}${leftOutSentence(total)}`.trim();
}

/** What is left open because nothing is settled at such an age, over all groups. */
export function beyondSentence(groups: readonly GroupForecast[]): string {
  const told = groups.flatMap(({ reserve }) => (reserve.kind === "reserve" ? [reserve.beyond] : []));
  const packs = told.reduce((sum, beyond) => sum + beyond.packs, 0);
  const packMonths = told.reduce((sum, beyond) => sum + beyond.packMonths, 0);
  return packs === 0
    ? "No cover reaches beyond the ages at which what happened is settled."
    : `Apart from that ${packsInWords(packs)} will pass ages under cover older than what is settled of their revision: ${sayMonths(packMonths)}. Nothing is foretold of these.`;
}
