import { csvTable } from "@/lib/settlement/csv-table";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { besideFieldNames, besideFields, besideTotalFields } from "./beside-fields";
import type { BesideForecast } from "./beside-forecast";
import { costFieldNames, costFields, totalCostFields } from "./cost-fields";
import { FORECAST_MONTHS } from "./cover-forecast";
import { forecastRefusalWords, forecastSentence, leftOutSentence, lentWords } from "./forecast-sentences";
import { ALL_TOLD, totalForecast } from "./forecast-total";
import { type PricedForecast, totalCost } from "./priced-forecast";
import { COUNTING_RULES_VERSION, FORECAST_RULES_VERSION } from "./rule-version";

/**
 * The forecast as CSV: one row a group and horizon, then one for all that can be told, whose limits are no sum of theirs. Data date and
 * rules in every row, empty fields where nothing can be told.
 */
export function forecastCsv(
  dataDate: CalendarDate,
  groups: readonly PricedForecast[],
  beside: readonly BesideForecast[],
): string {
  const data = groups.flatMap(({ group, packsUnderCover, failures, basis, forecasts, cost, costs }) =>
    forecasts.map((one) => [
      dataDate,
      COUNTING_RULES_VERSION,
      FORECAST_RULES_VERSION,
      group,
      packsUnderCover,
      failures,
      lentWords(basis),
      one.months,
      ...(one.kind === "forecast"
        ? [one.expected, one.unreported, one.lower, one.upper, one.beyond.packs, one.beyond.packMonths, ""]
        : ["", "", "", "", "", "", forecastRefusalWords(one, dataDate)]),
      ...costFields(cost, costs[one.months]),
      ...besideFields(beside, group, one.months, groups),
    ]),
  );
  const totals = FORECAST_MONTHS.map((months) => {
    const total = totalForecast(groups, months);
    return [
      ...[dataDate, COUNTING_RULES_VERSION, FORECAST_RULES_VERSION, ALL_TOLD],
      ...[total?.packsUnderCover ?? "", total?.failures ?? "", "", months],
      ...[total?.expected ?? "", total?.unreported ?? "", total?.lower ?? "", total?.upper ?? ""],
      ...[total?.beyond.packs ?? "", total?.beyond.packMonths ?? ""],
      total === null ? forecastSentence(null, months) : leftOutSentence(total).trim(),
      ...totalCostFields(totalCost(groups, months)),
      ...besideTotalFields(groups, beside, months),
    ];
  });
  return csvTable(fields, [...data, ...totals]);
}

const fields = [
  "data date",
  "counting rules",
  "forecast rules",
  "revision",
  "packs under cover",
  "failures the law rests on",
  "law",
  "months ahead",
  "failures expected",
  "of these not yet reported",
  "lower 95 % limit",
  "upper 95 % limit",
  "packs passing ages not yet seen, not in it",
  "pack-months at ages not yet seen, not in it",
  "cannot tell because",
  ...costFieldNames,
  ...besideFieldNames,
];
