import type { GroupForecast } from "./cover-forecast";
import { packMonthsAhead } from "./cover-reserve";
import { leftOutSentence, lentSentence, sayExpected, sayMonths } from "./forecast-sentences";
import type { ForecastTotal } from "./forecast-total";
import { grouped, packsInWords } from "./plain-share";

/** The answer of the page, and how much of the cover ahead of all groups it is of. */
export function reserveSentence(total: ForecastTotal | null, groups: readonly GroupForecast[]): string {
  if (total === null) return "What is still to come until the end of cover cannot be told yet.";
  const { expected, lower, upper } = total;
  return `Of the packs sold to date ${sayExpected(expected)} confirmed failures are still to come within cover up to the ages at which what happened is settled, between ${grouped(lower)} and ${grouped(upper)} (95 % limits). ${heldSentence(groups)}`;
}

/** Of a young group most of its cover lies at ages of which nothing is settled, and a number without that is soon read as the whole. */
function heldSentence(groups: readonly GroupForecast[]): string {
  const ahead = groups.reduce((sum, { basis }) => sum + packMonthsAhead(basis), 0);
  const held = groups.reduce((sum, { reserve }) => sum + (reserve.kind === "reserve" ? reserve.seenPackMonths : 0), 0);
  const months = `${grouped(Math.round(held))} of the ${sayMonths(ahead)} that packs sold to date still have under cover`;
  return ahead - held < 0.5
    ? `This covers all ${sayMonths(ahead)} that they still have under cover.`
    : `This covers ${months}; nothing is foretold of the rest.`;
}

/** Which part of the cover ahead of a group its number is of, in whole hundredths, down where it is not all: "18 in 100". */
export function sayHeld({ basis, reserve }: GroupForecast): string {
  const ahead = packMonthsAhead(basis);
  if (reserve.kind === "refused" || !(ahead > 0)) return "";
  return `${Math.floor((100 * reserve.seenPackMonths) / ahead + 1e-9)} in 100`;
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
