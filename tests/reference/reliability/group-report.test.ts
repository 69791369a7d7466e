import { expect, test } from "vitest";
import { groupReports } from "@/lib/reliability/group-report";
import { type GroupedHistory, tallyLives } from "@/lib/reliability/tally-lives";
import { plusDays } from "@/lib/warranty/calendar";
import { numberIn, readCheckTable } from "@/tests/support/check-table";
import { soldOn, unitHistory } from "@/tests/support/pack-dates";
import { expectWithinRelative } from "@/tests/support/within-relative";

test("dated histories of three made-up revisions give survfit's failure probabilities at one year", ({ skip }) => {
  // F at 365 days and its log-log limits, delayed entry included: R 4.2.2, survival 3.5-3.
  const published = [
    ["A", 0.023884699513, 0.0107727276312, 0.05252644463],
    ["B", 0.035492048518, 0.0186182139393, 0.06712667498],
    ["C", 0.018675567891, 0.0070451167875, 0.04902635348],
  ] as const;
  const rows = readCheckTable("statistics/data/fixture_battery_3rev.csv");
  if (rows === null) return skip("open data not present on this machine");
  const histories = rows.map((row): GroupedHistory => {
    const exitOn = plusDays(soldOn, numberIn(row, "exit_age"));
    const hasFailed = numberIn(row, "failed") === 1;
    return unitHistory(row.unit ?? "", {
      group: row.rev ?? "",
      underObservationFrom: plusDays(soldOn, numberIn(row, "entry_age")),
      dataDate: hasFailed ? plusDays(exitOn, 1) : exitOn,
      failure: hasFailed ? { toldOn: exitOn, confirmed: true } : null,
    });
  });
  const reports = groupReports(
    "revision",
    published.map(([group]) => group),
    tallyLives(histories),
  );
  for (const [i, [group, probability, lower, upper]] of published.entries()) {
    const atOneYear = reports[i]?.estimates[2];
    // C has a relative standard error of 49.6 %: it is the closest of the three to "cannot tell".
    if (atOneYear?.kind !== "estimate") throw new Error(`an estimate is expected for ${group}`);
    expectWithinRelative(atOneYear.probability, probability, 1e-9, "F");
    expectWithinRelative(atOneYear.lower, lower, 1e-9, "lower");
    expectWithinRelative(atOneYear.upper, upper, 1e-9, "upper");
    const watched = rows.filter((row) => numberIn(row, "entry_age") < 365.25 && numberIn(row, "exit_age") >= 365.25);
    expect(atOneYear.atRisk).toBe(watched.filter((row) => row.rev === group).length);
  }
});
