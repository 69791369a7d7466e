import type { CalendarDate } from "@/lib/warranty/calendar";
import { type BesideForecast, besideForecast, type ComeBack } from "./beside-forecast";
import { packsRunning, type RunningCell } from "./cover-basis";
import { forecastGroup } from "./cover-forecast";
import type { FailureCost } from "./failure-cost";
import { cellsByGroup, type LifeTable, sumPacks } from "./life-cell";
import { type PricedForecast, priced } from "./priced-forecast";
import { type LagEstimate, reportingOf, settledAfterDays } from "./reporting-lag";
import type { BesideRunning } from "./waiting-returns";

/** What is known on the data date, counted; nothing of it is computed yet. */
export interface ForecastFacts {
  readonly dataDate: CalendarDate;
  readonly hasCoverRules: boolean;
  readonly currency: string;
  readonly table: LifeTable;
  readonly lag: LagEstimate;
  readonly confirmation: LagEstimate;
  /** Packs under cover by revision; those that never came back; those put right and in use again. */
  readonly running: ReadonlyMap<string, readonly RunningCell[]>;
  readonly runningWithoutReturn: ReadonlyMap<string, readonly RunningCell[]>;
  readonly backInUse: ReadonlyMap<string, readonly RunningCell[]>;
  /** Every revision, in the order in which they are told. */
  readonly costs: readonly { readonly revision: string; readonly model: string; readonly cost: FailureCost }[];
  readonly comeBack: readonly ComeBack[];
}

export interface ForecastPage {
  readonly dataDate: CalendarDate;
  readonly hasCoverRules: boolean;
  readonly currency: string;
  readonly revisions: readonly PricedForecast[];
  /** Of the same revisions in the same order: first returns, and failures were those undecided for too long failures. */
  readonly beside: readonly BesideForecast[];
  readonly comeBack: readonly ComeBack[];
  readonly lag: LagEstimate;
  /** How long it takes until a failure told is confirmed. */
  readonly confirmation: LagEstimate;
  /** The laws rest on what was told so many days before the data date or earlier. */
  readonly lawSettledDays: number;
  /** Returns that nobody has decided on: neither failures nor running packs. */
  readonly undecided: number;
  /** Of the same revisions in the same order: what is in no number of the forecast. */
  readonly waiting: readonly BesideRunning[];
  readonly unsold: number;
}

/** Failures to come of every revision, what they will cost, and what stands beside them in no number of it. */
export function foretell(facts: ForecastFacts): ForecastPage {
  const { dataDate, hasCoverRules, currency, table, lag, confirmation, costs, comeBack } = facts;
  const lawSettledDays = settledAfterDays(confirmation);
  const byGroup = cellsByGroup(table.cells);
  const cellsOf = (code: string) => byGroup.get(code) ?? [];
  const likesOf = (code: string, of: string) =>
    costs.flatMap(({ revision, model }) => (model === of && revision !== code ? cellsOf(revision) : []));
  const isUndecided = ({ line, status }: LifeTable["cells"][number]) => line === "confirmed" && status === "undecided";
  return {
    ...{ dataDate, hasCoverRules, currency, comeBack, lag, confirmation, lawSettledDays },
    undecided: sumPacks(table.cells.filter(isUndecided)),
    unsold: sumPacks(table.excluded.filter(({ reason, dispatched }) => reason === "unsold" && dispatched)),
    waiting: costs.map(({ revision: code, cost }) => ({
      ...{ group: code, backInUse: packsRunning(facts.backInUse.get(code) ?? []), cost },
      undecided: sumPacks(cellsOf(code).filter(isUndecided)),
    })),
    beside: costs.map(({ revision: code, model }) =>
      besideForecast({
        group: code,
        cells: cellsOf(code),
        likes: likesOf(code, model),
        running: facts.running.get(code) ?? [],
        runningWithoutReturn: facts.runningWithoutReturn.get(code) ?? [],
        backInUse: facts.backInUse.get(code) ?? [],
        comeBack,
        reporting: reportingOf(lag),
        confirmedAfterDays: lawSettledDays,
        lodgedAfterDays: settledAfterDays(lag),
      }),
    ),
    revisions: costs.map(({ revision: code, model, cost }) => {
      const running = facts.running.get(code) ?? [];
      const likes = likesOf(code, model);
      const forecast = forecastGroup(cellsOf(code), running, reportingOf(lag), lawSettledDays, "confirmed", likes);
      return priced({ group: code, model }, forecast, cost);
    }),
  };
}
