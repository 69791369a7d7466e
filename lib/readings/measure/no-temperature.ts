import type { RowSurvey } from "@/lib/readings/measure/row-survey";
import { oncePer } from "@/lib/readings/once-per";

/** Rows in which a probe reads what is no temperature. */
export interface NoTemperature {
  readonly name: string;
  readonly rows: number;
  readonly firstRow: number;
  /** degC, as it was read there. */
  readonly firstC: number;
}

/** Probes that read what none can read (255 or 511 while a board wakes up, an open lead), with the rows, which are kept and count as not measured. */
export const noTemperatures = oncePer(({ log, gates }: RowSurvey): readonly NoTemperature[] => {
  const [low, high] = gates.temperaturePlausibleC;
  return log.temperatures.flatMap(({ name, valuesC }) => {
    let rows = 0;
    let firstRow = -1;
    for (let row = 0; row < valuesC.length; row += 1) {
      const read = valuesC[row] ?? Number.NaN;
      if (!(read < low || read > high)) continue;
      rows += 1;
      if (firstRow < 0) firstRow = row;
    }
    return rows === 0 ? [] : [{ name, rows, firstRow, firstC: valuesC[firstRow] ?? Number.NaN }];
  });
});
