import { compareByWords } from "./compare-by";
import type { IfFailures } from "./if-failures";
import { grouped, sayP } from "./plain-share";
import { ratioBetween, sayRatio } from "./worse-sentences";

/** "2 of its returns have been undecided for 41 days or more …" and what would follow, were they failures. */
export function ifFailuresSentence({ by, undecided, effect, ownAlone }: IfFailures, waitedDays: number): string {
  const one = undecided === 1;
  const waiting = `${grouped(undecided)} of its returns ${one ? "has" : "have"} been undecided for ${grouped(waitedDays)} days or more, longer than any delay that is allowed for, and ${one ? "counts" : "count"} as no failure anywhere above.`;
  const alone =
    ownAlone === null
      ? ""
      : `; were those of the others none, ${timesWords(ownAlone)} they${limitWords(ownAlone)}, which is the worst case`;
  return `${waiting} Were ${one ? "it a failure" : "they failures, as all others of that kind"}, it would fail ${timesWords(effect)} the other ${compareByWords[by].many} of its model${limitWords(effect)}${alone}.`;
}

/** All groups that stand out only then, in one line; empty where there is none. */
export function wouldStandOutSentence(all: readonly IfFailures[], waitedDays: number): string {
  const names = all
    .filter(({ isWorse, wouldBeWorse }) => wouldBeWorse && !isWorse)
    .map(({ by, group, undecided, effect: together, ownAlone }) => {
      const effect = ownAlone ?? together;
      const ratio = effect.ratio ? `, ${timesWords(effect)} the others${limitWords(effect)}` : "";
      return `${compareByWords[by].one} ${group} (${grouped(undecided)}${ratio})`;
    });
  if (names.length === 0) return "";
  const one = names.length === 1;
  return `Were ${one ? "its returns" : "the returns of one of these"} that have been undecided for ${grouped(waitedDays)} days or more failures, and those of all others none, ${one ? "this" : "it"} would stand out as well: ${names.join("; ")}.`;
}

function timesWords({ ratio }: IfFailures["effect"]): string {
  if (ratio === null) return "more or less often, which cannot be told yet, than";
  // Only this group failed: the limit beside it says how many times at least.
  return ratio.ratio === null ? "more often than" : `${sayRatio(ratio.ratio)} times as often as`;
}

function limitWords(effect: IfFailures["effect"]): string {
  const limits = effect.ratio === null ? [] : [`95 % limits ${ratioBetween(effect.ratio)}`];
  const adjusted = effect.adjustedP === null ? [] : [`adjusted ${sayP(effect.adjustedP)}`];
  const words = [...limits, ...adjusted].join(", ");
  return words === "" ? "" : ` (${words})`;
}
