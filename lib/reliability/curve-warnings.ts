import type { KaplanMeierCurve } from "@/lib/stats/kaplan-meier";
import type { LifeProblem } from "@/lib/stats/life-counts";
import { FEWEST_AT_RISK } from "./failure-estimate";
import type { Refusal, UnitGroup } from "./unit-groups";

/** Plain sentences on what a reader of this curve must know before believing it; empty where there is nothing. */
export function curveWarnings(
  curve: KaplanMeierCurve,
  { refusals, countedTwice }: Pick<UnitGroup, "refusals" | "countedTwice">,
): string[] {
  return [
    ...[...refusals].map(([problem, refusal]) => refusedRows(problem, refusal)),
    ...(countedTwice === null ? [] : [twiceCounted(countedTwice)]),
    ...usedUpEarly(curve),
    ...unobservedAges(curve),
    ...noFailures(curve),
    ...fewAtRisk(curve),
    ...allFailed(curve),
  ];
}

const problemInWords: Record<LifeProblem, string> = {
  "not-a-number": "an age is no number",
  "negative-age": "an age is negative",
  "exit-not-after-entry": "the exit age is not after the entry age",
};

function refusedRows(problem: LifeProblem, refusal: Refusal): string {
  const { rows } = refusal;
  return `${rows} row${rows === 1 ? " was" : "s were"} refused because ${problemInWords[problem]} (${whereWords(refusal)}).`;
}

function twiceCounted(refusal: Refusal): string {
  const { rows } = refusal;
  return `${rows} row${rows === 1 ? " names a unit" : "s name units"} of which a row above covers the same ages (${whereWords(refusal)}): each is counted as a unit of its own.`;
}

function whereWords({ rows, lines }: Refusal): string {
  const more = rows > lines.length ? ` and ${rows - lines.length} more` : "";
  return `line${rows === 1 ? "" : "s"} ${lines.join(", ")}${more}`;
}

function usedUpEarly({ exhaustedAtAge, steps }: KaplanMeierCurve): string[] {
  if (exhaustedAtAge === null) return [];
  const atRisk = steps.find((step) => step.age === exhaustedAtAge)?.atRisk ?? 0;
  return [
    `Exhausted risk set: at age ${exhaustedAtAge} all ${atRisk} units at risk failed although others are watched at ` +
      "higher ages; survival 0 from there on comes from the small early risk set and says nothing about the others.",
  ];
}

function unobservedAges({ unobserved }: KaplanMeierCurve): string[] {
  const [first, ...others] = unobserved;
  if (first === undefined) return [];
  const more = others.length === 0 ? "" : ` (and in ${others.length} more such spans)`;
  return [
    `Nobody was watched between ages ${first.fromAge} and ${first.toAge}${more}: the curve runs flat there for want of ` +
      "observation and holds only for units that lived through it.",
  ];
}

function noFailures({ units, failures, lastAge }: KaplanMeierCurve): string[] {
  if (units === 0) return ["No unit of this group could be counted."];
  return failures === 0 ? [`No failure among ${units} units up to age ${lastAge}: the curve has no step.`] : [];
}

function fewAtRisk({ steps }: KaplanMeierCurve): string[] {
  const sparse = steps.filter((step) => step.atRisk < FEWEST_AT_RISK);
  const [first] = sparse;
  if (first === undefined) return [];
  const where = sparse.length === steps.length ? "all" : `${sparse.length} of ${steps.length}`;
  return [
    `Few at risk: fewer than ${FEWEST_AT_RISK} units at ${where} failure ages (first at age ${first.age}, with ` +
      `${first.atRisk}); one failure there moves the curve a long way.`,
  ];
}

function allFailed({ steps, exhaustedAtAge }: KaplanMeierCurve): string[] {
  const last = steps.at(-1);
  if (last === undefined || last.survival > 0 || exhaustedAtAge !== null) return [];
  return [
    `All units at risk had failed by age ${last.age}: the log-log formula has no limits at survival 0, so the lower ` +
      "limit is 0 and the upper one is conservative.",
  ];
}
