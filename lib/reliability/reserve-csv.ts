import { csvTable } from "@/lib/settlement/csv-table";
import { besideFieldNames, besideFields, besideTotalFields } from "./beside-fields";
import type { BesideForecast } from "./beside-forecast";
import { costFieldNames, costFields, totalCostFields } from "./cost-fields";
import { packMonthsAhead } from "./cover-reserve";
import { forecastRefusalClause, leftOutSentence, lentWords } from "./forecast-sentences";
import { ALL_TOLD, totalForecast } from "./forecast-total";
import { type PricedForecast, totalCost } from "./priced-forecast";
import { reserveSentence } from "./reserve-sentences";
import { COUNTING_RULES_VERSION, FORECAST_RULES_VERSION } from "./rule-version";

/** What is still to come until the end of cover as CSV: one row a group, one for all that can be told, empty fields where nothing can be. */
export function reserveCsv(
  dataDate: string,
  groups: readonly PricedForecast[],
  beside: readonly BesideForecast[],
): string {
  const data = groups.map(({ group, packsUnderCover, failures, basis, reserve, cost, costs }) => [
    dataDate,
    COUNTING_RULES_VERSION,
    FORECAST_RULES_VERSION,
    group,
    packsUnderCover,
    failures,
    lentWords(basis),
    ...(reserve.kind === "reserve"
      ? [
          reserve.expected,
          reserve.unreported,
          reserve.lower,
          reserve.upper,
          reserve.beyond.packs,
          reserve.beyond.packMonths,
          reserve.packsWithoutEnd,
          "",
          packMonthsAhead(basis),
          reserve.seenPackMonths,
        ]
      : ["", "", "", "", "", "", "", forecastRefusalClause(reserve.reason), packMonthsAhead(basis), 0]),
    ...costFields(cost, costs["cover-end"]),
    ...besideFields(beside, group, "cover-end", groups),
  ]);
  const total = totalForecast(groups, "cover-end");
  const withoutEnd = groups.reduce(
    (sum, { reserve }) => sum + (reserve.kind === "reserve" ? reserve.packsWithoutEnd : 0),
    0,
  );
  const all = [
    ...[dataDate, COUNTING_RULES_VERSION, FORECAST_RULES_VERSION, ALL_TOLD],
    ...[total?.packsUnderCover ?? "", total?.failures ?? "", ""],
    ...[total?.expected ?? "", total?.unreported ?? "", total?.lower ?? "", total?.upper ?? ""],
    ...[total?.beyond.packs ?? "", total?.beyond.packMonths ?? "", total === null ? "" : withoutEnd],
    total === null ? reserveSentence(null, groups) : leftOutSentence(total).trim(),
    groups.reduce((sum, { basis }) => sum + packMonthsAhead(basis), 0),
    groups.reduce((sum, { reserve }) => sum + (reserve.kind === "reserve" ? reserve.seenPackMonths : 0), 0),
    ...totalCostFields(totalCost(groups, "cover-end")),
    ...besideTotalFields(groups, beside, "cover-end"),
  ];
  return csvTable(fields, [...data, all]);
}

const fields = [
  "data date",
  "counting rules",
  "forecast rules",
  "revision",
  "packs under cover",
  "failures the law rests on",
  "law",
  "failures still to come at ages seen",
  "of these not yet reported",
  "lower 95 % limit",
  "upper 95 % limit",
  "packs that reach ages not seen",
  "pack-months at ages not seen, nothing foretold of them",
  "packs without a known end of cover",
  "cannot tell because",
  "pack-months under cover ahead",
  "of these the number is of",
  ...costFieldNames,
  ...besideFieldNames,
];
