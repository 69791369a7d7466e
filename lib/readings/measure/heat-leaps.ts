import type { AcuteGates } from "@/lib/readings/measure/acute-gates";
import type { AcuteSign } from "@/lib/readings/measure/acute-sign";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";
import { switchProbe } from "@/lib/readings/measure/switch-heat";
import { rangeOf } from "@/lib/readings/measure/value-range";

/** A probe that leapt to a heat: all its readings from the first hot one until one that is not, and what it stood at before. */
export interface HeatLeap extends Pick<AcuteSign, "where" | "row" | "before" | "after" | "overS"> {
  /** Readings that are hot in themselves, up to `row`, the last of them, and where the first stands. */
  readonly hotReadings: number;
  readonly hotFromRow: number;
  readonly hotFromC: number;
  /** One of them stands below the rail of a shorted probe: a short circuit goes there at once. */
  readonly passesHeat: boolean;
  /** Nothing after it says whether the probe was warm. */
  readonly atEnd: boolean;
  /** The next reading stands where it leapt from: nothing cools so fast. */
  readonly straightBack: boolean;
}

interface ReadAsHeat {
  readonly where: string;
  readonly valuesC: Float64Array;
  readonly highestC: number;
  readonly hotC: number;
  readonly railC: number;
}

/**
 * Stretches in which a probe reads what is hot in itself, however long, and before which it stood lower by a steep rise within few
 * readings. Too sudden for a sign of danger of one probe alone. O(rows) for each probe that was ever hot.
 */
function heatLeaps(survey: RowSurvey, acute: AcuteGates): HeatLeap[] {
  const { log, gates } = survey;
  const columns: ReadAsHeat[] = log.temperatures.map(({ name, valuesC }) => ({
    where: name,
    valuesC,
    highestC: gates.temperaturePlausibleC[1],
    hotC: acute.hotC,
    railC: acute.probeRailC,
  }));
  if (log.mosfetTemperatureC !== null)
    columns.push({
      where: switchProbe,
      valuesC: log.mosfetTemperatureC,
      highestC: acute.switchNoTemperatureC,
      hotC: acute.switchHotC,
      railC: acute.switchNoTemperatureC,
    });
  return columns
    .filter(({ valuesC, hotC }) => rangeOf(valuesC).highest >= hotC)
    .flatMap((column) => leapsOf(survey, column, acute));
}

interface HotStretch {
  readonly fromRow: number;
  /** Rows of the readings before it, the latest last. */
  readonly rowsBefore: readonly number[];
  toRow: number;
  readings: number;
  passesHeat: boolean;
}

function leapsOf(survey: RowSurvey, column: ReadAsHeat, acute: AcuteGates): HeatLeap[] {
  const { log, gates } = survey;
  const { valuesC, highestC, hotC, railC } = column;
  const [low] = gates.temperaturePlausibleC;
  const recent: number[] = [];
  const found: (HeatLeap | null)[] = [];
  let stretch: HotStretch | null = null;
  for (let row = 0; row < log.rows; row += 1) {
    const warm = valuesC[row] ?? Number.NaN;
    if (!(warm >= low && warm <= highestC)) continue;
    if (warm >= hotC) {
      stretch ??= { fromRow: row, rowsBefore: [...recent], toRow: row, readings: 0, passesHeat: false };
      stretch.toRow = row;
      stretch.readings += 1;
      stretch.passesHeat ||= warm < railC;
    } else if (stretch !== null) {
      found.push(leapInto(survey, column, stretch, row, acute));
      stretch = null;
    }
    recent.push(row);
    if (recent.length > acute.leapReadings) recent.shift();
  }
  if (stretch !== null) found.push(leapInto(survey, column, stretch, null, acute));
  return found.filter((leap) => leap !== null);
}

function leapInto(
  { log, intervalS }: RowSurvey,
  { where, valuesC }: ReadAsHeat,
  { fromRow, rowsBefore, toRow, readings, passesHeat }: HotStretch,
  nextRow: number | null,
  acute: AcuteGates,
): HeatLeap | null {
  const at = (row: number) => valuesC[row] ?? Number.NaN;
  const after = at(toRow);
  const lowestC = Math.min(...rowsBefore.map(at));
  if (!(after - lowestC >= acute.steepRiseK)) return null;
  const footC = lowestC + acute.leapFootShare * (after - lowestC);
  const from = rowsBefore.findLast((row) => at(row) <= footC) ?? toRow;
  return {
    where,
    row: toRow,
    before: at(from),
    after,
    overS: (log.timeS[toRow] ?? 0) - (log.timeS[from] ?? 0),
    hotReadings: readings,
    hotFromRow: fromRow,
    hotFromC: at(fromRow),
    passesHeat,
    atEnd: nextRow === null,
    straightBack: nextRow !== null && (intervalS[nextRow] ?? 0) > 0 && at(nextRow) <= footC,
  };
}

/** Probes that leapt to a heat and still read it where the log ends, which is all the more what happened last. */
export function leapsAtEnd(survey: RowSurvey, acute: AcuteGates): HeatLeap[] {
  return heatLeaps(survey, acute).filter(({ atEnd }) => atEnd);
}

/**
 * Probes of cells that leap together, wherever in the log: that is no jump of a sensor, and colder rows after it do not unsay it.
 * None where one leaps alone, and none that stand straight back where they came from, which no heat does. One hot reading of each is enough in the
 * last row, where no other can follow, if they read different heats that probes can read: a frame cut off or a sentinel does not give those. Such
 * a sign stays unconfirmed.
 */
export function leapsTogether(survey: RowSurvey, acute: AcuteGates): AcuteSign[] {
  const leaps = heatLeaps(survey, acute).filter(
    ({ where, hotReadings, straightBack, atEnd, passesHeat }) =>
      where !== switchProbe && !straightBack && (hotReadings >= acute.leapTogetherReadings || (atEnd && passesHeat)),
  );
  const isEnough = ({ hotReadings }: HeatLeap) => hotReadings >= acute.leapTogetherReadings;
  const bearOut = (one: HeatLeap, other: HeatLeap) =>
    (isEnough(one) && isEnough(other)) || Math.abs(one.after - other.after) >= differentHeatK;
  const { timeS } = survey.log;
  return leaps
    .filter((one) => leaps.some((other) => other.where !== one.where && overlap(one, other) && bearOut(one, other)))
    .map(({ where, row, hotFromRow, hotFromC, before, overS, hotReadings }) => ({
      kind: "hot",
      row: hotFromRow,
      groups: [],
      before,
      after: hotFromC,
      overS: Math.max(0, overS - ((timeS[row] ?? 0) - (timeS[hotFromRow] ?? 0))),
      where,
      confirmed: hotReadings >= acute.leapTogetherReadings,
    }));
}

/** K by which two readings must differ to be two heats and not one value written for both. Engineering default. */
const differentHeatK = 1;

function overlap(one: HeatLeap, other: HeatLeap): boolean {
  return one.hotFromRow <= other.row && other.hotFromRow <= one.row;
}
