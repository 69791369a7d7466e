import { csvTable } from "@/lib/settlement/csv-table";
import { besideFieldNames, besideFields } from "./beside-fields";
import type { BesideForecast } from "./beside-forecast";
import { costFieldNames, costFields } from "./cost-fields";
import type { PricedForecast } from "./priced-forecast";
import { COUNTING_RULES_VERSION, FORECAST_RULES_VERSION } from "./rule-version";

/** The forecast as CSV: one row a group and horizon, data date and rules in every row, empty fields where nothing can be told. */
export function forecastCsv(
  dataDate: string,
  groups: readonly PricedForecast[],
  beside: readonly BesideForecast[],
): string {
  const data = groups.flatMap(({ group, packsUnderCover, failures, forecasts, cost, costs }) =>
    forecasts.map((one) => [
      dataDate,
      COUNTING_RULES_VERSION,
      FORECAST_RULES_VERSION,
      group,
      packsUnderCover,
      failures,
      one.months,
      ...(one.kind === "forecast"
        ? [one.expected, one.unreported, one.lower, one.upper, one.beyond.packs, one.beyond.packMonths, ""]
        : ["", "", "", "", "", "", one.reason]),
      ...costFields(cost, costs[one.months]),
      ...besideFields(beside, group, one.months),
    ]),
  );
  return csvTable(fields, data);
}

const fields = [
  "data date",
  "counting rules",
  "forecast rules",
  "revision",
  "packs under cover",
  "failures the law rests on",
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
