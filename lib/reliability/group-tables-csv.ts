import { csvTable } from "@/lib/settlement/csv-table";
import type { CalendarDate } from "@/lib/warranty/calendar";
import type { GroupAnswers, ModelOfGroup } from "./group-answers";
import type { FaultShare, GroupLife, LifeModel } from "./group-life";
import type { GroupReport } from "./group-report";
import type { RepeatReturns } from "./repeat-returns";
import { COUNTING_RULES_VERSION } from "./rule-version";
import type { WeibullPlot } from "./weibull-plot";

/** Tables of one group that leave the house beside its shares at the milestones. */
export const groupTables = ["shares", "curve", "faults", "law", "law-points", "repeats"] as const;
export type GroupTable = (typeof groupTables)[number];

/** What every row says: the day of the data, and the group. */
export interface GroupAbout {
  readonly dataDate: string;
  readonly by: string;
  readonly group: string;
}

/** What a table tells of all packs of a group put together, and of those of each model where it has several. */
export interface OfModels<T> {
  readonly together: T;
  readonly byModel: readonly { readonly model: string; readonly of: T }[];
}

/** What the field "model" says of the rows of all packs. */
export const ALL_MODELS = "all together";

/** One thing of a group and of each of its models. */
export function ofModels<T>(
  page: Pick<GroupAnswers, "line" | "life" | "repeats" | "byModel">,
  of: (one: Pick<ModelOfGroup, "line" | "life" | "repeats">) => T,
): OfModels<T> {
  return { together: of(page), byModel: page.byModel.map((one) => ({ model: one.model, of: of(one) })) };
}

/** Rows of all packs first, then of each model, with its name in front. */
export function rowsOfModels<T>(
  { together, byModel }: OfModels<T>,
  rowsOf: (one: T) => readonly (readonly Cell[])[],
): Cell[][] {
  return [{ model: ALL_MODELS, of: together }, ...byModel].flatMap(({ model, of }) =>
    rowsOf(of).map((row) => [model, ...row]),
  );
}

type Cell = string | number;
type DrawnCurve = Pick<GroupReport, "points" | "confirmedSoFar">;
type Laws = Pick<GroupLife, "model" | "plot" | "rate" | "ifFailures">;

function tableOf<T>(
  { dataDate, by, group }: GroupAbout,
  fields: readonly string[],
  all: OfModels<T>,
  rowsOf: (one: T) => readonly (readonly Cell[])[],
): string {
  const about = [dataDate, COUNTING_RULES_VERSION, by, group];
  return csvTable(
    ["data date", "counting rules", "grouped by", "group", "model", ...fields],
    rowsOfModels(all, rowsOf).map((row) => [...about, ...row]),
  );
}

/** What came later is left out: not all of it is confirmed yet. */
const TOLD_UP_TO = "rests on what was told up to";

const limits = ["lower 95 % limit", "upper 95 % limit"];

/**
 * Every point of the curve drawn; `reliable` is "no" where the picture is grey. Where late reports are allowed for, the shares confirmed so
 * far stand beneath, without limits: they have none that hold.
 */
export function curveCsv(about: GroupAbout, curves: OfModels<DrawnCurve>): string {
  return tableOf(
    about,
    ["line", "age in days", "packs at risk after it", "share failed", ...limits, "reliable"],
    curves,
    ({ points, confirmedSoFar }) => {
      const line = confirmedSoFar === null ? "confirmed failures" : "late reports allowed for";
      return [
        ...points.map(({ ageDays, atRisk, probability, lower, upper, grey }) => {
          return [line, ageDays, atRisk, probability, lower, upper, grey ? "no" : "yes"];
        }),
        ...(confirmedSoFar ?? []).map(({ ageDays, probability }) => {
          return ["confirmed failures", ageDays, "", probability, "", "", "no"];
        }),
      ];
    },
  );
}

/** Each fault's share of packs failed of it, others coming first allowed for; "cannot rely on it because" names the doubt. */
export function faultsCsv(about: GroupAbout, faults: OfModels<readonly FaultShare[]>): string {
  return tableOf(
    about,
    [
      "fault found",
      "months in use",
      "failures",
      "packs at risk",
      "share failed of it",
      ...limits,
      "cannot rely on it because",
    ],
    faults,
    (some) =>
      some.map(({ fault, months, failures, atRisk, share, lower, upper, doubt }) => {
        return [fault, months, failures, atRisk, share, lower, upper, doubt ?? ""];
      }),
  );
}

/** Whether returns that have been undecided for too long are in it as failures. */
const TAKEN = "returns undecided for too long taken as failures";

/**
 * The law of the lives in one row: Weibull, Weibull of a part, Weibull with an assumed shape, or why there is none, and the failures in
 * 1,000 pack-months with exact limits; once more where returns have been undecided for too long, with these as failures.
 */
export function lawCsv(about: GroupAbout, laws: OfModels<Laws>, settledOn: CalendarDate): string {
  return tableOf(
    about,
    [
      "law",
      "failures",
      "shape",
      ...limits.map((words) => `${words} of the shape`),
      "scale in days",
      ...limits.map((words) => `${words} of the scale`),
      "share that can fail",
      ...limits.map((words) => `${words} of that share`),
      "remark",
      TOLD_UP_TO,
      TAKEN,
      "failures counted for the rate",
      "pack-months in use",
      "failures in 1,000 pack-months",
      ...limits.map((words) => `${words} of that rate`),
    ],
    laws,
    ({ model, rate, ifFailures }) => [
      [...lawRow(model), settledOn, "no", ...rateFields(rate)],
      ...(ifFailures === null ? [] : [[...lawRow(ifFailures.model), settledOn, "yes", ...rateFields(ifFailures.rate)]]),
    ],
  );
}

/** Empty without a pack in use. */
function rateFields(rate: Laws["rate"]): Cell[] {
  if (rate === null) return ["", "", "", "", ""];
  return [rate.count, rate.exposure * 1000, rate.rate, rate.lower, rate.upper];
}

function lawRow(model: LifeModel): Cell[] {
  switch (model.kind) {
    case "weibull": {
      const { failures, shape, scale, limits: its } = model;
      const { shape: s, scale: e } = its;
      return ["Weibull", failures, shape, s.lower, s.upper, scale, e.lower, e.upper, "", "", "", "by likelihood ratio"];
    }
    case "part-can-fail": {
      const { share, shape, scale, p } = model.fit;
      const { share: part, shape: s, scale: e } = model.limits;
      const remark = `p ${p.toPrecision(2)}; limits by profile likelihood`;
      const law = [shape, s.lower ?? "", s.upper ?? "", scale, e.lower ?? "", e.upper ?? ""];
      return ["Weibull of a part", model.failures, ...law, share, part.lower, part.upper, remark];
    }
    case "assumed-shape": {
      const { fit, shapeFrom, atItsLimits } = model;
      const scale = [fit.scale ?? "", fit.lower, fit.upper ?? ""];
      const others = atItsLimits.map((one) => {
        const middle = one.scale === null ? "" : `${one.scale.toFixed(1)}, `;
        return `; at shape ${one.shape.toFixed(3)} scale ${middle}limits ${one.lower.toFixed(1)} to ${one.upper?.toFixed(1) ?? "none"}`;
      });
      const remark = `shape from ${shapeFrom}${others.join("")}`;
      return ["Weibull with assumed shape", fit.failures, fit.shape, "", "", ...scale, "", "", "", remark];
    }
    case "refused":
      return ["none", "", "", "", "", "", "", "", "", "", "", model.sentence];
    default: {
      const never: never = model;
      return never;
    }
  }
}

/** The points on Weibull paper and the line at each; once more where returns have been undecided for too long, as for the law. */
export function lawPointsCsv(about: GroupAbout, laws: OfModels<Laws>, settledOn: CalendarDate): string {
  return tableOf(
    about,
    ["age in days", "failures", "packs at risk", "drawn at", "line at this age", "no line because", TOLD_UP_TO, TAKEN],
    laws,
    ({ plot, ifFailures }) => [
      ...pointRows(plot).map((row) => [...row, settledOn, "no"]),
      ...(ifFailures === null ? [] : pointRows(ifFailures.plot).map((row) => [...row, settledOn, "yes"])),
    ],
  );
}

function pointRows(plot: WeibullPlot): Cell[][] {
  if (plot.kind === "refused") return [["", "", "", "", "", plot.sentence]];
  return plot.points.map(({ ageDays, failures, atRisk, plotted, fitted }) => {
    return [ageDays, failures, atRisk, plotted, fitted, ""];
  });
}

/** Mean number of returns of a customer by age of the first pack, at every age with a return. */
export function repeatsCsv(about: GroupAbout, repeats: OfModels<RepeatReturns>): string {
  return tableOf(
    about,
    ["age in days", "customers watched so long", "returns at this age", "mean number of returns by then", ...limits],
    repeats,
    ({ steps }) =>
      steps.map(({ age, atRisk, events, mean, lower, upper }) => [age, atRisk, events, mean, lower, upper]),
  );
}
