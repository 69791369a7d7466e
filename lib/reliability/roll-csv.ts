import { csvTable } from "@/lib/settlement/csv-table";
import { plainAmount } from "@/lib/settlement/money";
import { amountFields } from "./cost-fields";
import type { AgainEnd, RolledAgainOfAll } from "./roll-again";
import type { BothLimits, Limits, ReserveSteps, RollForward, ToldAt } from "./roll-forward";
import { COST_RULES_VERSION, COUNTING_RULES_VERSION, FORECAST_RULES_VERSION } from "./rule-version";

interface RolledForecast {
  readonly from: string;
  readonly to: string;
  readonly currency: string;
  readonly countingRules: string;
  readonly forecastRules: string;
  readonly again: RolledAgainOfAll | null;
  readonly revisions: readonly (RollForward & {
    readonly group: string;
    readonly costLimits: BothLimits;
    readonly paid: { readonly amountMinor: number } | { readonly sentence: string };
  })[];
}

/** A forecast rolled forward as CSV: one row a revision, both dates and both sets of rules in every row. */
export function rollCsv(rolled: RolledForecast): string {
  const { from, to, currency, countingRules, forecastRules, revisions } = rolled;
  const amount = (minor: number) => plainAmount(Math.round(minor), currency);
  const data = revisions.map(
    ({ group, arisen, period, verdict, failures, limits, cost, costLimits, paid, returns, told }) => [
      from,
      to,
      countingRules,
      forecastRules,
      COUNTING_RULES_VERSION,
      FORECAST_RULES_VERSION,
      COST_RULES_VERSION,
      group,
      arisen.confirmed,
      arisen.undecided,
      ...(period === null ? ["", "", ""] : [period.expected, period.lower, period.upper]),
      verdict ?? "",
      ...stepFields(failures, told.failures, (number) => number),
      ...limitFields(limits, (number) => number),
      currency,
      ...stepFields(cost, told.cost, amount),
      ...limitFields(costLimits, amount),
      "sentence" in paid ? "" : amount(paid.amountMinor),
      "sentence" in paid ? paid.sentence : "",
      returns?.came ?? "",
      returns?.period?.expected ?? "",
      returns?.period?.lower ?? "",
      returns?.period?.upper ?? "",
      returns?.verdict ?? "",
      ...againFields(rolled.again, group),
    ],
  );
  return csvTable(fields, data);
}

const stepNames = [
  "opening",
  "arisen",
  "changeOfNumber",
  "changeOfCost",
  "changeOfTelling",
  "soldSince",
  "closing",
] as const;

function stepFields(
  steps: ReserveSteps | null,
  told: ToldAt,
  say: (number: number) => string | number,
): (string | number)[] {
  const isUntold = (name: (typeof stepNames)[number]) => (name === "opening" || name === "closing") && !told[name];
  return stepNames.map((name) => (steps === null || isUntold(name) ? "" : say(steps[name])));
}

function limitFields({ opening, closing }: BothLimits, say: (number: number) => string | number): (string | number)[] {
  const ends = (limits: Limits | null) => (limits === null ? ["", ""] : [say(limits.lower), say(limits.upper)]);
  return [...ends(opening), ...ends(closing)];
}

/** Packs put right that run again, then and now; empty where there was none, or it was not kept. */
function againFields(again: RolledAgainOfAll | null, of: string): (string | number)[] {
  const found = again?.revisions.find(({ group }) => group === of);
  if (found === undefined) return againWords.map(() => "");
  return [...endFields(found.opening), found.came, ...endFields(found.closing)];
}

function endFields(end: AgainEnd | null): (string | number)[] {
  if (end === null) return endWords.map(() => "");
  const { packs, failures, cost } = end;
  return [
    packs,
    ...(failures === null ? ["", "", ""] : [failures.expected, failures.lower, failures.upper]),
    ...amountFields(cost),
    cost?.currency ?? "",
  ];
}

const endWords = [
  "packs in use again",
  ...["expected", "lower 95 % limit", "upper 95 % limit"].map((words) => `failures: ${words}`),
  ...["expected", "lower 95 % limit", "upper 95 % limit"].map((words) => `cost: ${words}`),
  "currency",
];

const againWords = [
  ...endWords.map((words) => `put right then: ${words}`),
  "put right then: failed again since",
  ...endWords.map((words) => `put right now: ${words}`),
];

const limitWords = ["opening lower", "opening upper", "closing lower", "closing upper"].map((w) => `${w} 95 % limit`);

const stepWords = [
  "opening",
  "arisen since",
  "change of number",
  "change of cost of one",
  "change of what can be told",
  "on packs sold since",
  "closing",
];

const fields = [
  "data date then",
  "data date now",
  "counting rules then",
  "forecast rules then",
  "counting rules now",
  "forecast rules now",
  "cost rules now",
  "revision",
  "confirmed failures since",
  "returns since, not decided",
  "failures expected in the period",
  "lower 95 % limit",
  "upper 95 % limit",
  "what came lies",
  ...stepWords.map((words) => `failures: ${words}`),
  ...limitWords.map((words) => `failures: ${words}`),
  "currency",
  ...stepWords.map((words) => `cost: ${words}`),
  ...limitWords.map((words) => `cost: ${words}`),
  "paid to dealers since",
  "paid unknown because",
  "first returns since",
  "first returns expected in the period",
  "first returns: lower 95 % limit",
  "first returns: upper 95 % limit",
  "first returns: what came lies",
  ...againWords,
];
