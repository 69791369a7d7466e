import type { AcuteGates } from "@/lib/readings/measure/acute-gates";
import type { AcuteSign } from "@/lib/readings/measure/acute-sign";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";
import { switchProbe } from "@/lib/readings/measure/switch-heat";

/** A probe that leapt to a heat in the last readings of a log: nothing after it says whether it was warm. */
export type LeapAtEnd = Pick<AcuteSign, "where" | "row" | "before" | "after" | "overS">;

/** Readings of one probe at the end of a log in which a leap is not yet told from heat: as many as heat has to stand after it. Engineering default. */
const lastReadings = 5;
/** Share of the leap from its lowest reading up to which a reading stands at its foot: a probe flickers. Engineering default. */
const atFoot = 0.1;

/**
 * Probes whose last reading is hot in itself and which stood lower by a steep rise within the few readings before. Too short for a sign
 * of danger, which asks for rows that follow; and all the more what happened last.
 */
export function leapsAtEnd({ log, gates }: RowSurvey, acute: AcuteGates): LeapAtEnd[] {
  const [low, high] = gates.temperaturePlausibleC;
  const columns = log.temperatures.map(({ name, valuesC }) => ({ where: name, valuesC, high, hotC: acute.hotC }));
  if (log.mosfetTemperatureC !== null)
    columns.push({
      where: switchProbe,
      valuesC: log.mosfetTemperatureC,
      high: acute.switchNoTemperatureC,
      hotC: acute.switchHotC,
    });
  return columns.flatMap(({ where, valuesC, high: highest, hotC }): LeapAtEnd[] => {
    const rows: number[] = [];
    for (let row = log.rows - 1; row >= 0 && rows.length <= lastReadings; row -= 1) {
      const warm = valuesC[row] ?? Number.NaN;
      if (warm >= low && warm <= highest) rows.push(row);
    }
    const [last = -1, ...before] = rows;
    const after = valuesC[last] ?? Number.NaN;
    const lowest = Math.min(...before.map((row) => valuesC[row] ?? after));
    if (!(after >= hotC && after - lowest >= acute.steepRiseK)) return [];
    const from = before.find((row) => (valuesC[row] ?? after) - lowest <= atFoot * (after - lowest)) ?? last;
    const overS = (log.timeS[last] ?? 0) - (log.timeS[from] ?? 0);
    return [{ where, row: last, before: valuesC[from] ?? Number.NaN, after, overS }];
  });
}
