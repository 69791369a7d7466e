import { expect, test } from "vitest";
import { type JointLives, lifeTableBy } from "@/lib/reliability/joint-lives";
import { reportingLag, reportingOf } from "@/lib/reliability/reporting-lag";
import { separateCauses } from "@/lib/reliability/separate-causes";
import { allWorse, compareWatched } from "@/lib/reliability/what-got-worse";
import { calendarDate, daysBetween } from "@/lib/warranty/calendar";
import { buildScenario } from "@/seed/scenario/build-scenario";
import { badCellLotCode } from "@/seed/scenario/lots";

const scenario = buildScenario();
const kinds = ["revision", "cell-lot"] as const;

/** Lives from the sale to a confirmed failure, an undecided return or the data date; ends of cover and replacements left aside. */
function jointLives(): JointLives[] {
  const sales = new Map(scenario.sales.map((sale) => [sale.serial, sale]));
  const firstEnd = new Map<string, (typeof scenario.returns)[number]>();
  for (const lodged of scenario.returns) {
    const ends = lodged.decision === null || lodged.decision.confirmedFailure;
    if (ends && !firstEnd.has(lodged.serial)) firstEnd.set(lodged.serial, lodged);
  }
  const modelOf = new Map(scenario.revisions.map(({ code, modelCode }) => [code, modelCode]));
  const cellLots = new Set(scenario.lots.filter(({ kind }) => kind === "cell").map(({ code }) => code));
  return scenario.packs.flatMap((pack): JointLives[] => {
    const sale = sales.get(pack.serial);
    if (sale === undefined) return [];
    const end = firstEnd.get(pack.serial);
    const endedOn = end?.toldOn ?? scenario.asOf;
    const status = end === undefined ? "running" : end.decision === null ? "undecided" : "failed";
    const entry = Math.max(0, daysBetween(sale.soldOn, sale.underObservationFrom));
    const exit = Math.max(end === undefined ? 0 : 1, daysBetween(sale.soldOn, endedOn));
    if (exit <= entry) return [];
    const one = (value: number) => Int32Array.of(value);
    const slack = one(Math.min(92, daysBetween(endedOn, scenario.asOf)));
    return [
      {
        groups: new Map([
          ["revision", pack.revisionCode],
          ["cell-lot", pack.lotCodes.filter((code) => cellLots.has(code)).join(" + ")],
        ]),
        stratum: modelOf.get(pack.revisionCode) ?? "",
        dispatched: true,
        end: { kind: "life", status, detail: null },
        anyEnd: { status: "running", detail: null },
        runs: { entry: one(entry), exit: one(exit), slack, anyExit: one(-1), anySlack: one(-1), packs: one(1) },
      },
    ];
  });
}

test("of revisions and cell lots alone, ends of cover left aside, the bad lot and the young bad revision lead", () => {
  const lives = jointLives();
  const lags = scenario.returns.flatMap(({ toldOn, decision }) => {
    const lag = decision?.confirmedFailure ? daysBetween(toldOn, calendarDate(decision.decidedAt.slice(0, 10))) : -1;
    return lag < 0 ? [] : [{ lag, longest: daysBetween(toldOn, scenario.asOf) }];
  });
  const reporting = reportingOf(reportingLag(lags));
  const tables = kinds.map((by) => ({ by, table: lifeTableBy(lives, by) }));
  const { leading } = separateCauses(
    allWorse(tables, compareWatched(tables, reporting, "revision"), reporting),
    lives,
    () => reporting,
  );
  expect(leading.slice(0, 2).map(({ effect }) => effect.group)).toEqual([badCellLotCode, "GW-C"]);
});
