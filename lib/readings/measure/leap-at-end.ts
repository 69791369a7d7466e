import type { AcuteGates } from "@/lib/readings/measure/acute-gates";
import type { AcuteSign } from "@/lib/readings/measure/acute-sign";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";
import { switchProbe } from "@/lib/readings/measure/switch-heat";

/** A probe that leapt to a heat and still reads it where the log ends: nothing after it says whether it was warm. */
export interface LeapAtEnd extends Pick<AcuteSign, "where" | "row" | "before" | "after" | "overS"> {
  /** Readings that are hot in themselves, up to the last of the log, and the row of the first of them. */
  readonly hotReadings: number;
  readonly hotFromRow: number;
  /** One of them stands below the rail of a shorted probe: a short circuit goes there at once. */
  readonly passesHeat: boolean;
}

/**
 * Probes whose last readings are hot in themselves, however many they are, and which stood lower by a steep rise within the few
 * readings before the first of them. Too sudden for a sign of danger of one probe alone, and all the more what happened last.
 */
export function leapsAtEnd({ log, gates }: RowSurvey, acute: AcuteGates): LeapAtEnd[] {
  const [low, high] = gates.temperaturePlausibleC;
  const columns = log.temperatures.map(({ name, valuesC }) => ({
    where: name,
    valuesC,
    high,
    hotC: acute.hotC,
    railC: acute.probeRailC,
  }));
  if (log.mosfetTemperatureC !== null)
    columns.push({
      where: switchProbe,
      valuesC: log.mosfetTemperatureC,
      high: acute.switchNoTemperatureC,
      hotC: acute.switchHotC,
      railC: acute.switchNoTemperatureC,
    });
  return columns.flatMap(({ where, valuesC, high: highest, hotC, railC }): LeapAtEnd[] => {
    const before: number[] = [];
    let hotReadings = 0;
    let passesHeat = false;
    let last = -1;
    let hotFromRow = -1;
    for (let row = log.rows - 1; row >= 0 && before.length < acute.leapReadings; row -= 1) {
      const warm = valuesC[row] ?? Number.NaN;
      if (!(warm >= low && warm <= highest)) continue;
      if (last < 0) last = row;
      if (before.length === 0 && warm >= hotC) {
        hotReadings += 1;
        hotFromRow = row;
        passesHeat ||= warm < railC;
      } else before.push(row);
    }
    const after = valuesC[last] ?? Number.NaN;
    const lowest = Math.min(...before.map((row) => valuesC[row] ?? after));
    if (hotReadings === 0 || !(after - lowest >= acute.steepRiseK)) return [];
    const from =
      before.find((row) => (valuesC[row] ?? after) - lowest <= acute.leapFootShare * (after - lowest)) ?? last;
    const overS = (log.timeS[last] ?? 0) - (log.timeS[from] ?? 0);
    return [
      { where, row: last, before: valuesC[from] ?? Number.NaN, after, overS, hotReadings, hotFromRow, passesHeat },
    ];
  });
}

/** Probes of cells that leap together: that is no jump of a sensor. None where one leaps alone. */
export function leapsTogether(survey: RowSurvey, acute: AcuteGates): AcuteSign[] {
  const leaps = leapsAtEnd(survey, acute).filter(
    ({ where, hotReadings }) => where !== switchProbe && hotReadings >= acute.leapTogetherReadings,
  );
  if (leaps.length < 2) return [];
  return leaps.map(({ where, row, before, after, overS }) => ({
    kind: "hot",
    row,
    groups: [],
    before,
    after,
    overS,
    where,
    confirmed: true,
  }));
}
