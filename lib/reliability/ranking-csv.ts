import { csvTable } from "@/lib/settlement/csv-table";
import type { ComparisonChoice } from "./compare-by";
import { hangsOnDelay } from "./compare-strata";
import { rankingRefusal } from "./refusal-sentences";
import { COUNTING_RULES_VERSION } from "./rule-version";
import type { ShrunkenRanking } from "./shrunken-ranking";
import { hangsOnDelayWords } from "./worse-sentences";

/** Groups in the order in which to look at them, luck allowed for; one row that says why where there is no ranking. */
export function rankingCsv(dataDate: string, { by, within }: ComparisonChoice, ranking: ShrunkenRanking): string {
  const about = [dataDate, COUNTING_RULES_VERSION, by, within];
  return csvTable(
    fields,
    ranking.kind === "refused"
      ? [[...about, "", "", "", "", "", "", "", "", "", rankingRefusal(ranking.reason), ""]]
      : ranking.groups.map((ranked, i) => {
          const { group, failures, observed, expected, raw, shrunken, lower, upper } = ranked;
          const counts = [...about, i + 1, group, failures, observed, expected];
          return hangsOnDelay(ranked)
            ? [...counts, "", "", "", "", "", hangsOnDelayWords]
            : [...counts, raw, shrunken, lower, upper, "", ""];
        }),
  );
}

const fields = [
  "data date",
  "counting rules",
  "grouped by",
  "held against its likes",
  "place",
  "group",
  "confirmed failures",
  "failures at ages at which others were watched",
  "failures to be expected",
  "times the average of all, itself included, as counted",
  "times the average of all, itself included, drawn in",
  "lower 95 % limit",
  "upper 95 % limit",
  "no ranking because",
  "no number because",
];
