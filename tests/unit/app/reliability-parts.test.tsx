import { renderToStaticMarkup } from "react-dom/server";
import { expect, test } from "vitest";
import { IntervalPlot } from "@/app/_components/charts/interval-plot";
import { DelayTable } from "@/app/(manager)/reliability/delay-table";
import { ForecastTable } from "@/app/(manager)/reliability/forecast/forecast-table";
import { WeibullPart } from "@/app/(manager)/reliability/group/weibull-part";
import { ReserveTable } from "@/app/(manager)/reliability/reserve/reserve-table";
import { LongUndecidedSignals } from "@/app/(manager)/reliability/signals/long-undecided-signals";
import { FORECAST_MONTHS, forecastGroup } from "@/lib/reliability/cover-forecast";
import { totalForecast } from "@/lib/reliability/forecast-total";
import { groupLags } from "@/lib/reliability/group-lags";
import { groupLife } from "@/lib/reliability/group-life";
import type { LifeCell } from "@/lib/reliability/life-cell";
import { priced, totalCost } from "@/lib/reliability/priced-forecast";
import { knownAtOnce, reportingLag } from "@/lib/reliability/reporting-lag";
import { calendarDate } from "@/lib/warranty/calendar";

function cell(exitDays: number, status: LifeCell["status"], packs = 1): LifeCell {
  const kept = { line: "confirmed", stratum: "M", dispatched: true, entryDays: 0, slackDays: 0, detail: null } as const;
  return { ...kept, group: "A", exitDays, status, packs };
}

test.each<[string, LifeCell[]]>([
  ["no pack", []],
  ["no failures", [cell(300, "running", 40)]],
  ["one failure", [cell(20, "failed"), cell(300, "running", 40)]],
  ["one pack", [cell(20, "failed")]],
  ["all failed", [10, 20, 40, 80, 160, 320].map((age) => cell(age, "failed"))],
  ["all failed on one day", [cell(20, "failed", 9)]],
  ["many failures on the first day", [cell(1, "failed", 9), cell(300, "running", 40)]],
])("a fleet with %s shows no forecast and no plot that is not a number", (_, cells) => {
  const running = cells
    .filter(({ status }) => status === "running")
    .map(({ exitDays, packs }) => ({ ageDays: exitDays, coverLeftDays: 90, packs }));
  const cost = { kind: "unknown", currency: "EUR", of: "A", sentences: ["Nothing is assumed."] } as const;
  const revisions = [priced({ group: "A", model: "M" }, forecastGroup(cells, running, knownAtOnce, 0), cost)];
  const totals = FORECAST_MONTHS.map((months) => ({
    months,
    total: totalForecast(revisions, months),
    cost: totalCost(revisions, months),
  }));
  const rows = revisions.flatMap(({ group, forecasts }) =>
    forecasts.map((one) => ({
      name: `${group} ${one.months}`,
      interval: one.kind === "forecast" ? { value: one.expected, lower: one.lower, upper: one.upper } : null,
    })),
  );
  const shown = renderToStaticMarkup(
    <>
      <ForecastTable
        revisions={revisions}
        totals={totals}
        dataDate={calendarDate("2026-11-25")}
        lawSettledDays={29}
        linked
      />
      <ReserveTable
        revisions={revisions}
        total={totalForecast(revisions, "cover-end")}
        cost={null}
        dataDate=""
        linked
      />
      <IntervalPlot id="f" title="Failures" sentence="Failures to come." axis="failures" rows={rows} />
      <WeibullPart by="revision" life={groupLife(cells, [], knownAtOnce, 0)} group="A" />
    </>,
  );
  expect(shown).toContain("In use under cover");
  expect(shown).not.toMatch(/NaN|undefined|Infinity/);
});

test("that no other group would signal is said of all faults together, which alone are asked", () => {
  const watch = {
    by: "cell-lot",
    group: "B",
    stratum: "M",
    fault: null,
    observed: 3,
    expected: 2,
    alarm: false,
    holds: null,
  } as const;
  const counted = { packsInUse: 300, countedFromDays: 0, countedUpToDays: 365, baseline: 30, likesFailed: 30 } as const;
  const state = { ...watch, ...counted, undecided: 12, evidence: 1, threshold: 3, alarmAt: 8 } as const;
  const shown = (alarm: boolean) => {
    const then = { ...state, alarm };
    return renderToStaticMarkup(<LongUndecidedSignals all={[{ now: state, then, undecided: 12 }]} waitedDays={40} />);
  };
  expect(shown(false)).toContain("no other group would signal by all its faults together; single faults are not asked");
  expect(shown(true)).toContain(
    "this would be a signal too, all faults together: cell lot B. Single faults are not asked",
  );
});

test("the delays of dealers are told one by one where each has its own, and nothing stands where one is taken for all", () => {
  const shown = (groups: readonly (readonly [string, number])[]) => {
    const lagsOf = new Map(
      groups.map(([group, slow]) => [
        group,
        Array.from({ length: 40 }, (_, i) => ({ lag: slow + (i % 10), longest: 100 + i })),
      ]),
    );
    const delays = groupLags("dealer", lagsOf, reportingLag([...lagsOf.values()].flat()));
    return renderToStaticMarkup(<DelayTable delays={delays} />);
  };
  const two = shown([
    ["D1", 10],
    ["D2", 55],
  ]);
  // Days 10 to 19, and 55 to 64, every one as often.
  for (const words of ["14 days", "19 days", "59 days", "64 days", ">40<", "throughout"]) expect(two).toContain(words);
  expect(
    shown([
      ["D1", 10],
      ["D2", 10],
    ]),
  ).toBe("");
  expect(renderToStaticMarkup(<DelayTable delays={null} />)).toBe("");
});
