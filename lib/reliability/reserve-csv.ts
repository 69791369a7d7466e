import { csvTable } from "@/lib/settlement/csv-table";
import { besideFieldNames, besideFields } from "./beside-fields";
import type { BesideForecast } from "./beside-forecast";
import { costFieldNames, costFields } from "./cost-fields";
import type { PricedForecast } from "./priced-forecast";
import { COUNTING_RULES_VERSION, FORECAST_RULES_VERSION } from "./rule-version";

/** What is still to come until the end of cover as CSV: one row a group, empty fields where nothing can be told. */
export function reserveCsv(
  dataDate: string,
  groups: readonly PricedForecast[],
  beside: readonly BesideForecast[],
): string {
  const data = groups.map(({ group, packsUnderCover, failures, reserve, cost, costs }) => [
    dataDate,
    COUNTING_RULES_VERSION,
    FORECAST_RULES_VERSION,
    group,
    packsUnderCover,
    failures,
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
        ]
      : ["", "", "", "", "", "", "", reserve.reason]),
    ...costFields(cost, costs["cover-end"]),
    ...besideFields(beside, group, "cover-end"),
  ]);
  return csvTable(fields, data);
}

const fields = [
  "data date",
  "counting rules",
  "forecast rules",
  "revision",
  "packs under cover",
  "failures the law rests on",
  "failures still to come at ages seen",
  "of these not yet reported",
  "lower 95 % limit",
  "upper 95 % limit",
  "packs that reach ages not seen",
  "pack-months at ages not seen, nothing foretold of them",
  "packs without a known end of cover",
  "cannot tell because",
  ...costFieldNames,
  ...besideFieldNames,
];
