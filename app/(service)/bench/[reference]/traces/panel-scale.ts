import { scaleLinear } from "d3-scale";
import type { TracePanelFacts } from "./trace-panels";

/** The drawing is stretched to its place, so its width in its own units is free; the height is in CSS pixels. */
export const DRAWING_WIDTH = 1000;

export interface PanelScale {
  readonly y: (value: number) => number;
  readonly ticks: readonly number[];
  /** Digits after the point that tell the ticks apart. */
  readonly decimals: number;
}

/** A scale that holds every value drawn, to the next round tick: a spike must never be cut off. */
export function panelScale({ band, traces, heightPx, marksZero }: TracePanelFacts): PanelScale {
  const drawn = [...traces.map(({ series }) => series), ...(band === null ? [] : [band.lowest, band.highest])];
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const { lowest, highest } of drawn) {
    for (const value of lowest) if (value !== null && value < low) low = value;
    for (const value of highest) if (value !== null && value > high) high = value;
  }
  if (low > high) [low, high] = [0, 1];
  if (marksZero) [low, high] = [Math.min(0, low), Math.max(0, high)];
  // A trace that never changes would otherwise fill the panel with its noise.
  if (high - low < 1e-3) [low, high] = [low - 0.5, high + 0.5];
  const y = scaleLinear([low, high], [heightPx, 0]).nice(4);
  const ticks = y.ticks(4);
  const step = (ticks[1] ?? 1) - (ticks[0] ?? 0);
  return { y: (value) => y(value), ticks, decimals: Math.max(0, Math.ceil(-Math.log10(step) - 1e-9)) };
}

/** Buckets hold equally many rows, so each has the same width: a logger's sleep takes none. */
export function bucketX(bucket: number, buckets: number): number {
  return buckets <= 1 ? DRAWING_WIDTH / 2 : (bucket / (buckets - 1)) * DRAWING_WIDTH;
}
