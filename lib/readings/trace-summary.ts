import { sayElapsed } from "./elapsed-words";
import type { TracePicture, TraceSeries } from "./trace-picture";

export interface TraceExtremes {
  readonly key: string;
  readonly label: string;
  readonly unit: TraceSeries["unit"];
  readonly group: number | null;
  readonly lowest: number;
  /** Seconds since the first row at which the stretch with this value begins. */
  readonly lowestAtS: number;
  readonly highest: number;
  readonly highestAtS: number;
}

/** The lowest and highest value of every trace and when they stood there: the picture as a table. */
export function traceExtremes({ timeS, series }: TracePicture): TraceExtremes[] {
  return series.flatMap(({ key, label, unit, group, lowest, highest }) => {
    const low = extreme(lowest, (value, best) => value < best);
    const high = extreme(highest, (value, best) => value > best);
    if (low === null || high === null) return [];
    return [
      {
        key,
        label,
        unit,
        group,
        lowest: low.value,
        lowestAtS: timeS[low.bucket] ?? 0,
        highest: high.value,
        highestAtS: timeS[high.bucket] ?? 0,
      },
    ];
  });
}

/** The same in one sentence, for whoever hears the page: how long, and how far the lowest group and the current went. */
export function traceSentence(picture: TracePicture): string {
  const extremes = traceExtremes(picture);
  const named = (key: string) => extremes.find((trace) => trace.key === key);
  const parts = [`The picture spans ${sayElapsed(picture.timeS.at(-1) ?? 0)}`];
  const lowestGroup = named("lowest-cell");
  if (lowestGroup !== undefined) {
    const at = sayElapsed(lowestGroup.lowestAtS);
    parts.push(`the lowest cell group went down to ${lowestGroup.lowest.toFixed(3)} V after ${at}`);
  }
  const highestGroup = named("highest-cell");
  if (highestGroup !== undefined) parts.push(`the highest rose to ${highestGroup.highest.toFixed(3)} V`);
  const current = named("current");
  if (current !== undefined) {
    parts.push(`the current ran between ${signed(current.lowest)} A and ${signed(current.highest)} A`);
  }
  const stage = named("mosfet");
  const probes = extremes.filter(({ key, unit }) => unit === "degC" && key !== "mosfet");
  if (probes.length > 0) {
    parts.push(`the warmest probe reached ${Math.max(...probes.map(({ highest }) => highest)).toFixed(1)} °C`);
  }
  // The power stage runs far warmer than the cells: as their warmest probe it would alarm, or hide that they are cool.
  if (stage !== undefined) parts.push(`the power stage ${stage.highest.toFixed(1)} °C`);
  return `${parts.join("; ")}.`;
}

function signed(value: number): string {
  const text = Math.abs(value).toFixed(1);
  return value < 0 ? `−${text}` : text;
}

function extreme(values: readonly (number | null)[], isBetter: (value: number, best: number) => boolean) {
  let best: { value: number; bucket: number } | null = null;
  for (const [bucket, value] of values.entries()) {
    if (value !== null && (best === null || isBetter(value, best.value))) best = { value, bucket };
  }
  return best;
}
