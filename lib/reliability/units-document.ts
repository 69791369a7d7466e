import { cumulativeIncidence } from "@/lib/stats/cumulative-incidence";
import { type KaplanMeierCurve, kaplanMeier } from "@/lib/stats/kaplan-meier";
import { countFailures, lifeExposure } from "@/lib/stats/life-counts";
import { twoSidedNormalQuantile } from "@/lib/stats/normal-quantile";
import { poissonRate } from "@/lib/stats/poisson-limits";
import { survivalQuantile } from "@/lib/stats/survival-quantile";
import { type ComparisonDocument, comparisonDocument } from "./comparison-document";
import type { ForetoldCost } from "./cost-forecast";
import { type GivenCost, givenCostForecast } from "./cost-option";
import { valuesOf } from "./count-distribution";
import { foretell } from "./cover-forecast";
import { spanSums } from "./cover-spans";
import { curveWarnings } from "./curve-warnings";
import { type FailureLaw, failureLaw } from "./failure-law";
import { type GridDocument, gridDocument } from "./grid-document";
import { inHundred } from "./plain-share";
import { forecastRefusal, weibullRefusal } from "./refusal-sentences";
import { type RepeatsDocument, repeatsDocument } from "./repeats-document";
import type { UnitGroup } from "./unit-groups";
import {
  type Refused,
  type WeibayesDocument,
  type WeibullDocument,
  weibayesDocument,
  weibullDocument,
} from "./weibull-document";

/**
 * The law is carried on to ages no unit has reached where it puts at most this share of the failures there: the worked example
 * of Meeker & Escobar (1998), table 12.1, does so with 0.004. Engineering default, no authority.
 */
const MOST_CARRIED_ON = 0.01;

/** What the document shall hold besides counts and curves; what is not asked for is left out. */
export interface UnitsRequest {
  readonly compare: boolean;
  readonly weibull: boolean;
  /** Failed share per cause, where the file names causes. */
  readonly modes?: boolean;
  /** Mean number of events per unit by age, where the file names its units. */
  readonly repeats?: boolean;
  /** A Weibull shape to assume; null for none. */
  readonly assumedShape?: number | null;
  /** Time before the day of the data that comparison, laws, rates and forecasts leave out, because not all of it is reported; 0 for none. */
  readonly cutBack?: number;
  /** In the unit of the ages; null for no forecast. */
  readonly forecastHorizon: number | null;
  /** Width of the intervals that ages are known to; null or missing for exact ages. */
  readonly gridWidth?: number | null;
  /** Cost of one failure, for the cost of the forecast; null or missing for none. */
  readonly costOfOne?: GivenCost | null;
}

export interface GroupDocument {
  readonly group: string;
  readonly units: number;
  readonly failures: number;
  readonly survival: readonly {
    readonly age: number;
    readonly atRisk: number;
    readonly failures: number;
    readonly survival: number;
    readonly standardError: number;
    readonly lower: number;
    readonly upper: number;
  }[];
  /** Cumulative hazard at the same ages; limits on its logarithm. */
  readonly nelsonAalen: readonly {
    readonly age: number;
    readonly cumulativeHazard: number;
    readonly standardError: number;
    readonly lower: number;
    readonly upper: number;
  }[];
  /** Age by which half have failed; null where the curve does not come down that far. */
  readonly median: { readonly age: number | null; readonly lower: number | null; readonly upper: number | null };
  /** Failures per unit of time at risk with exact limits; null where nobody was watched. Fair only for a constant hazard. */
  readonly rate: RateDocument | null;
  /** What rate, comparison, law and forecast rest on; only where a time was cut off. The curve holds all that is known. */
  readonly settled?: { readonly cutBack: number; readonly failures: number; readonly failuresLeftOut: number };
  readonly weibull?: WeibullDocument | Refused;
  readonly weibayes?: readonly WeibayesDocument[];
  readonly grid?: GridDocument | Refused;
  readonly modes?: readonly ModeDocument[] | Refused;
  readonly repeats?: RepeatsDocument | Refused;
  readonly warnings: readonly string[];
}

export interface RateDocument {
  readonly failures: number;
  readonly exposure: number;
  readonly rate: number;
  readonly lower: number;
  readonly upper: number;
}

export interface ModeDocument {
  readonly cause: string;
  readonly failures: number;
  readonly incidence: readonly {
    readonly age: number;
    readonly atRisk: number;
    readonly failures: number;
    readonly incidence: number;
    readonly standardError: number;
    readonly lower: number;
    readonly upper: number;
  }[];
}

export type ForecastDocument =
  | {
      readonly group: string;
      readonly expected: number;
      readonly lower: number;
      readonly upper: number;
      /** Share of failures the law would put at ages no unit has reached. */
      readonly beyondObserved: number;
      /** Whether that share is in the numbers: only up to `MOST_CARRIED_ON`, else it is left out. */
      readonly carriedOn: boolean;
      /** The law: of all units, or of the part of them that can fail where the data prefer that. */
      readonly law: { readonly shape: number; readonly scale: number; readonly shareThatCanFail: number };
      /** Only where a time was cut off: failures of that time that the law expects beyond those reported so far; they come on top. */
      readonly unreported?: number;
      readonly remark?: string;
      /** Only where the cost of one failure was given; in units of its currency. */
      readonly cost?: ForetoldCost;
    }
  | ({ readonly group: string } & Refused);

export interface UnitsDocument {
  readonly groups: readonly GroupDocument[];
  /** `remark`: what it does about late reports, and where p is not to be read. */
  readonly comparison?: (ComparisonDocument & { readonly remark: string }) | Refused;
  readonly forecast?: readonly ForecastDocument[];
}

/**
 * The document that the reliability command prints: counts, survival with 95 % log-log limits, cumulative hazard, median and
 * rate, and what was asked for.
 */
export function unitsDocument(groups: readonly UnitGroup[], request: UnitsRequest): UnitsDocument {
  const { forecastHorizon } = request;
  return {
    groups: groups.map((group) => groupDocument(group, request)),
    ...(request.compare && { comparison: comparisonOf(groups, request) }),
    ...(forecastHorizon !== null && {
      forecast: groups.map((group) => forecastDocument(group, forecastHorizon, request)),
    }),
  };
}

const CHI_SQUARE_TOO_SMALL =
  "Of some group less than five failures are to be expected, so the p of the chi-square distribution calls chance a sign: drawn.p answers the same question.";

/** The command knows no delay, so it weighs nobody by one: it leaves out what is not all reported, and says so. */
function comparisonOf(groups: readonly UnitGroup[], { weibull, cutBack = 0 }: UnitsRequest) {
  const comparison = comparisonDocument(
    groups.map((group) => ({ ...group, counts: group.settled })),
    weibull,
  );
  const remark =
    cutBack > 0
      ? `Compared is what was told up to ${cutBack} before the day of the data; what was told since is left out on all sides. What takes longer than that to be told is allowed for by nothing.`
      : "All failures are taken to be known at once: where reports come late, groups of young units look better than they are, and where one group is reported faster than the others it looks worse. A time can be left out with --settled.";
  if ("refused" in comparison) return comparison;
  const sparse = comparison.drawn === null ? "" : ` ${CHI_SQUARE_TOO_SMALL}`;
  return { ...comparison, remark: `${remark}${sparse}` };
}

function groupDocument(unitGroup: UnitGroup, request: UnitsRequest): GroupDocument {
  const { group, counts, settled } = unitGroup;
  const { cutBack = 0 } = request;
  const curve = kaplanMeier(counts);
  const settledFailures = countFailures(settled);
  const assumed = weibayesDocument(settled, settledFailures, request.assumedShape ?? null);
  const asksForShape = request.weibull || (request.assumedShape ?? null) !== null;
  return {
    group,
    units: curve.units - unitGroup.rowsGoingOn,
    failures: curve.failures,
    survival: curve.steps.map(({ age, atRisk, failures, survival, standardError, lower, upper }) => ({
      age,
      atRisk,
      failures,
      survival,
      standardError,
      lower,
      upper,
    })),
    nelsonAalen: hazardSteps(curve),
    median: survivalQuantile(curve, 0.5),
    rate: rateDocument(settled, settledFailures),
    ...(cutBack > 0 && {
      settled: { cutBack, failures: settledFailures, failuresLeftOut: curve.failures - settledFailures },
    }),
    ...(request.weibull && { weibull: weibullDocument(settled) }),
    ...(asksForShape && assumed !== null && { weibayes: assumed }),
    ...(request.gridWidth != null && { grid: gridDocument(settled, request.gridWidth) }),
    ...(request.modes && { modes: modesDocument(unitGroup) }),
    ...(request.repeats && { repeats: repeatsDocument(unitGroup.units) }),
    warnings: [...curveWarnings(curve, unitGroup), ...(cutBack > 0 ? [uncorrectedWarning(cutBack)] : [])],
  };
}

function uncorrectedWarning(cutBack: number): string {
  return `The curve holds all that is known: failures of the last ${cutBack} that are not reported yet are not allowed for in it, so survival reads too high there.`;
}

function hazardSteps({ steps, confidence }: KaplanMeierCurve): GroupDocument["nelsonAalen"] {
  const z = twoSidedNormalQuantile(confidence);
  return steps.map(({ age, cumulativeHazard, cumulativeHazardVariance }) => {
    const standardError = Math.sqrt(cumulativeHazardVariance);
    const spread = Math.exp((z * standardError) / cumulativeHazard);
    return { age, cumulativeHazard, standardError, lower: cumulativeHazard / spread, upper: cumulativeHazard * spread };
  });
}

function rateDocument(counts: UnitGroup["settled"], failures: number): RateDocument | null {
  const exposure = lifeExposure(counts);
  if (!(exposure > 0)) return null;
  const { rate, lower, upper } = poissonRate(failures, exposure);
  return { failures, exposure, rate, lower, upper };
}

function modesDocument({ byCause }: UnitGroup): ModeDocument[] | Refused {
  if (byCause === null) return { refused: "The file has no column named cause." };
  return cumulativeIncidence(byCause).map(({ cause, failures, steps }) => ({ cause, failures, incidence: steps }));
}

function forecastDocument(
  unitGroup: UnitGroup,
  horizon: number,
  { costOfOne = null, cutBack = 0 }: UnitsRequest,
): ForecastDocument {
  const { group, counts, settled, left } = unitGroup;
  const law = failureLaw(settled);
  if ("refused" in law) {
    const refused = law.refused === "no-law" ? weibullRefusal(law.because) : forecastRefusal(law.refused);
    return { group, refused };
  }
  const running = counts
    .map(({ age, censored }) => ({ ageDays: age, coverLeftDays: null, packs: censored - (left.get(age) ?? 0) }))
    .filter(({ packs }) => packs > 0);
  if (running.length === 0) return { group, refused: forecastRefusal("nothing-running") };
  const basis = { failures: 0, law, running, hidden: [] };
  const forecast = foretell(basis, horizon, MOST_CARRIED_ON);
  if (forecast.kind === "refused") {
    if (forecast.reason === "no-law") throw new RangeError("a law was given");
    return { group, refused: forecastRefusal(forecast.reason) };
  }
  const { expected, lower, upper, beyondObserved } = forecast;
  const cost = costOfOne === null ? null : givenCostForecast(forecast, costOfOne);
  return {
    group,
    ...{ expected, lower, upper, beyondObserved, carriedOn: beyondObserved <= MOST_CARRIED_ON },
    ...remarks(law, unitGroup, cutBack, leftOutSentence(beyondObserved, law.largestAge)),
    law: { shape: law.shape, scale: law.scale, shareThatCanFail: law.part?.share ?? 1 },
    ...(cost !== null && { cost }),
  };
}

/** Null where nothing is left out. */
function leftOutSentence(beyondObserved: number, largestAge: number): string | null {
  if (beyondObserved <= MOST_CARRIED_ON) return null;
  return `Not all failures to come are in these numbers: by the law ${inHundred(beyondObserved)} of them fall at ages above ${largestAge}, which no unit has reached, and are left out of the expected number, its limits and its cost.`;
}

/** What is to be known beside the numbers: what is on its way, and units that nobody follows any more. */
function remarks(law: FailureLaw, unitGroup: UnitGroup, cutBack: number, leftOut: string | null) {
  const hidden = cutBack > 0 ? unreportedSince(law, unitGroup, cutBack) : null;
  const left = unitGroup.unitsLeft;
  const notFollowed = `${left} ${left === 1 ? "unit, whose watch" : "units, whose watches"} ended before the day of the data, ${left === 1 ? "counts" : "count"} as running no longer.`;
  const sentences = [
    ...(leftOut === null ? [] : [leftOut]),
    ...(hidden === null ? [] : [hidden.remark]),
    ...(left === 0 ? [] : [notFollowed]),
  ];
  if (sentences.length === 0) return {};
  return { ...hidden, remark: sentences.join(" ") };
}

/**
 * Of all that ran when the cut time began the failures to be expected in it, less those reported since: what has happened and is in no
 * number of the forecast, which follows units as running that may have failed. A unit that left is held to the ages it was watched at.
 */
function unreportedSince(law: FailureLaw, { counts, settled, leftSpans }: UnitGroup, cutBack: number) {
  const ran = new Map(settled.map(({ age, censored }) => [age, censored]));
  for (const { from, units } of leftSpans) ran.set(from, (ran.get(from) ?? 0) - units);
  const through = [...ran].map(([from, units]) => ({ from, to: from + cutBack, units }));
  const spans = [...through, ...leftSpans].filter(({ from, to, units }) => units > 0 && to > from);
  const expected = spanSums(spans, valuesOf(law)).sum;
  const reported = countFailures(counts) - countFailures(settled);
  const remark = `Units count as running that may have failed in the last ${cutBack} without its being reported: by the law ${expected.toFixed(1)} failed in that time; reported so far: ${reported}. What is missing comes on top of the expected number.`;
  return { unreported: Math.max(0, expected - reported), remark };
}
