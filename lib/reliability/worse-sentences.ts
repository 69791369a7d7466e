import { type CompareBy, compareByWords } from "./compare-by";
import { CALLED_BELOW, type GroupEffect, hangsOnDelay, isCalled } from "./compare-strata";
import { capital, grouped, inHundred, inHundredBetween, packsInWords, sayP } from "./plain-share";
import { fewDelaysClause } from "./reporting";
import { settledSoonSentence } from "./reporting-lag";
import type { Worse } from "./what-got-worse";

/** "Revision GW-C fails 2.4 times as often as the other revisions of its model at equal age (95 % limits 1.5 to 3.8)." */
export function whatSentence({ by, effect }: Pick<Worse, "by" | "effect">, current: boolean): string {
  const { one, many } = compareByWords[by];
  const today = current ? ", which is built today," : "";
  return `${capital(one)} ${effect.group}${today} fails ${ratioWords(effect)} the other ${many} of its model at equal age${ratioLimits(effect)}.`;
}

/** All that stands out, in one line for a reader who reads nothing else; empty for a single finding, which says so itself. */
export function standOutSentence(leading: readonly Pick<Worse, "by" | "effect">[]): string {
  if (leading.length < 2) return "";
  const names = leading.map(({ by, effect }) => `${compareByWords[by].one} ${effect.group}`);
  return `${grouped(leading.length)} groups of packs stand out, the surest first: ${names.join(", ")}.`;
}

/** A group against the others of its models, whatever comes out. */
export function effectSentence(by: CompareBy, effect: GroupEffect | null, tested: number): string {
  const { many } = compareByWords[by];
  if (effect === null || effect.p === null)
    return `It cannot be held against the other ${many} of its model yet: no failure happened at an age that both have reached.`;
  const told = `${ratioWords(effect)} the other ${many} of its model at equal age${ratioLimits(effect)}: ${comparedWords(effect)} (exact test over all shared ages, adjusted for the ${grouped(tested)} ${many} tested: ${sayP(effect.adjustedP ?? 1)})`;
  if (!isCalled(effect))
    return `It is not shown to fail more or less often than the other ${many}, and may fail as often: by its failures so far it would fail ${told}.`;
  if (!hangsOnDelay(effect)) return `It fails ${told}.`;
  return `Whether it fails more or less often than the others cannot be told yet: its failures may be confirmed sooner or later after they are told than theirs are, and that alone could make the difference. By the delay that is allowed for it would fail ${told}. ${settledSoonSentence}`;
}

/** What stands in place of a number that hangs on the delay. */
export const hangsOnDelayWords = "cannot tell yet: its delay alone could make it";

/** All groups that the test calls and that the delay alone could have made, in one line; empty where there is none. */
export function hangingSentence(
  hanging: readonly { readonly by: CompareBy; readonly group: string; readonly isMore: boolean }[],
): string {
  if (hanging.length === 0) return "";
  const names = hanging.map(({ by, group, isMore }) => {
    return `${compareByWords[by].one} ${group} (${isMore ? "more" : "less"} often by the delay that is allowed for)`;
  });
  const one = hanging.length === 1;
  return `Of ${grouped(hanging.length)} ${one ? "group" : "groups"} it cannot be told yet whether ${one ? "it fails" : "they fail"} more or less often than the others: were ${one ? "its" : "their"} failures confirmed faster or slower than those of the others, that alone could make the difference. ${settledSoonSentence} ${capital(names.join("; "))}.`;
}

/** What the ratio and its test rest on: ages at which others were watched too; failures at other ages are named apart. */
function comparedWords({ observed, expected, alone }: GroupEffect): string {
  const beyond =
    alone === 0
      ? ""
      : `, and ${grouped(alone)} more at ${alone === 1 ? "an age" : "ages"} at which none of the others was watched, ${alone === 1 ? "which counts" : "which count"} for nothing here`;
  return `${grouped(observed)} ${observed === 1 ? "failure" : "failures"}, where ${expected.toFixed(1)} were to be expected had all failed alike${beyond}`;
}

function ratioWords({ ratio }: GroupEffect): string {
  const value = ratio?.ratio ?? null;
  return value === null ? "more often than" : `${sayRatio(value)} times as often as`;
}

function ratioLimits({ ratio }: GroupEffect): string {
  return ratio === null ? "" : ` (95 % limits ${ratioBetween(ratio)})`;
}

/** "1.5 to 3.8", "1.5 or more". */
export function ratioBetween({ lower, upper }: { readonly lower: number; readonly upper: number | null }): string {
  return upper === null ? `${sayRatio(lower)} or more` : `${sayRatio(lower)} to ${sayRatio(upper)}`;
}

/** Two figures are all that a ratio with such limits can carry. */
export function sayRatio(ratio: number): string {
  if (ratio === 0) return "0";
  return ratio >= 9.95 ? grouped(Math.round(ratio)) : ratio.toFixed(ratio < 0.095 ? 2 : 1);
}

/** How sure that is, for a reader who has never heard of a p-value. */
export function sureSentence({ by, effect, tested }: Pick<Worse, "by" | "effect" | "tested">): string {
  const p = effect.adjustedP ?? 1;
  return `${comparedWords(effect)}. ${chanceWords(p)} (exact test over all shared ages, adjusted for the ${grouped(tested)} ${compareByWords[by].many} tested: ${sayP(p)}).`;
}

function chanceWords(p: number): string {
  if (p < 0.001) return "Chance alone hardly ever brings about such a difference";
  return "Of groups called like this at most 5 in 100 are wrong on average; it is tested anew every day";
}

/** "By 6 months in use about 4.1 in 100 have failed (between 2.6 and 6.1 in 100), against 1.7 in 100 (…) of the others." */
export function shareSentence({ atOneAge, effect }: Pick<Worse, "atOneAge" | "effect">): string {
  if (effect.strata.length > 1)
    return "Its packs are of several models or countries, which fail differently: a share over all of them would compare unlike with unlike, so none is given.";
  if (atOneAge === null) return "At no single age can its share failed be told with confidence yet.";
  const { its, others, allowance } = atOneAge;
  const failed =
    allowance === null ? "are confirmed to have failed" : "have failed, those not confirmed yet allowed for";
  return (
    `By ${its.months} months in use about ${inHundred(its.probability)} ${failed} ` +
    `(${inHundredBetween(its.lower, its.upper)}; ${packsInWords(its.atRisk)} at risk${allowance === null ? "" : fewDelaysClause(allowance)}), against ` +
    `${inHundred(others.probability)} (${inHundredBetween(others.lower, others.upper)}) of the others.`
  );
}

/** How many packs it concerns. */
export function packsSentence({ effect, packsInUse, packsRunning, packsNotSold, undecidedReturns }: Worse): string {
  const failures = effect.observed + effect.alone;
  const open =
    undecidedReturns === 0
      ? ""
      : ` ${grouped(undecidedReturns)} of its returns ${undecidedReturns === 1 ? "is" : "are"} still undecided and not counted: were ${undecidedReturns === 1 ? "it a failure" : "all of them failures"}, it would have ${grouped(failures + undecidedReturns)} instead of ${grouped(failures)}.`;
  return `It concerns ${packsInWords(packsInUse)} that came into use, ${grouped(packsRunning)} of them still running under cover, and ${packsInWords(packsNotSold)} not known to be sold.${open}`;
}

/** What has to be decided; the decision is the reader's. */
export function decideSentence({ by, effect, packsRunning, packsNotSold }: Worse, current: boolean): string {
  const name = `${compareByWords[by].one} ${effect.group}`;
  const questions = [
    ...(current ? [`whether ${name} goes on being built as it is`] : []),
    ...(packsNotSold > 0
      ? [
          `whether the ${packsInWords(packsNotSold)} not known to be sold ${packsNotSold === 1 ? "is" : "are"} held back`,
        ]
      : []),
    ...(packsRunning > 0
      ? [
          `whether the ${packsInWords(packsRunning)} in use ${packsRunning === 1 ? "is" : "are"} looked at before ${packsRunning === 1 ? "it fails" : "they fail"}`,
        ]
      : []),
  ];
  if (questions.length === 0)
    return "No pack of it is in stock or in use under cover: there is nothing left to hold back.";
  return `To decide: ${questions.join("; ")}. A fault that can hurt somebody goes to the safety officer at once, whatever the numbers say.`;
}

/** What remains of it once what is named before it is set apart; empty where none of its packs is in that. */
export function apartSentence({ by, effect, apart }: Pick<Worse, "by" | "effect" | "apart">): string {
  if (apart === null || apart.effect.strata.length === effect.strata.length) return "";
  const { ratio, adjustedP } = apart.effect;
  const names = apart.from.map(({ by: of, group }) => `${compareByWords[of].one} ${group}`).join(", ");
  const times = ratio?.ratio == null ? "more often than" : `${sayRatio(ratio.ratio)} times as often as`;
  const limits = ratio === null ? "" : `95 % limits ${ratioBetween(ratio)}; `;
  return `Part of that is the doing of what stands above: with the packs of ${names} held against each other only, it fails ${times} the other ${compareByWords[by].many} (${limits}adjusted for the ${grouped(apart.tested)} ${compareByWords[by].many} tested again: ${sayP(adjustedP ?? 1)}).`;
}

/** Why further groups are not named as findings of their own. */
export function explainedSentence(
  explained: readonly { readonly by: CompareBy; readonly group: string; readonly remains: GroupEffect | null }[],
  leading: string,
): string {
  if (explained.length === 0) return "";
  const names = explained.map(({ by, group, remains }) => {
    const ratio = remains?.ratio ?? null;
    const times = ratio?.ratio == null ? "" : `${sayRatio(ratio.ratio)} times as often, `;
    return `${compareByWords[by].one} ${group}${ratio === null ? "" : ` (${times}95 % limits ${ratioBetween(ratio)})`}`;
  });
  return `Shares packs with what is named above and is not shown to fail more once those are set apart (${leading}): ${names.join(", ")}. That is no proof that it is sound.`;
}

/** What the page has no room to tell one by one; empty where that is nothing. */
export function furtherSentence(further: readonly { readonly by: CompareBy; readonly group: string }[]): string {
  if (further.length === 0) return "";
  const names = further.map(({ by, group }) => `${compareByWords[by].one} ${group}`).join(", ");
  return `And ${grouped(further.length)} more ${further.length === 1 ? "fails" : "fail"} more even with the packs of those set apart: ${names}. Each stands in the tables below, compared by its kind.`;
}

/** The families of tests share no level: what that means for a page on which nothing is wrong. */
export function familiesSentence(families: number): string {
  const falsePages = Math.round(100 * (1 - (1 - CALLED_BELOW) ** families));
  return `Each of the ${families} kinds of group is tested by itself: were all packs alike, up to ${falsePages} in 100 pages like this would still name something. Beside something that truly fails more, up to ${Math.round(100 * CALLED_BELOW)} in 100 would name something else that only shares its packs.`;
}
