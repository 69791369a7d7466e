import { scaleLinear } from "d3-scale";
import type { GroupDot } from "@/lib/diagnosis/group-dot";

export interface DotLine {
  readonly at: number;
  readonly words: string;
}

export const DOT_WIDTH = 600;
export const DOT_HEIGHT = 190;

/** A vertical scale that holds every dot, limit and line, to round ticks; `fromZero` where the height itself counts. */
export function dotScale(dots: readonly GroupDot[], lines: readonly DotLine[], fromZero: boolean) {
  const all = [
    ...dots.flatMap(({ value, limits, beside }) => [value, ...(limits ?? []), ...(beside === null ? [] : [beside])]),
    ...lines.map(({ at }) => at),
    ...(fromZero ? [0] : []),
  ];
  const low = Math.min(...all);
  const high = Math.max(...all);
  const y = scaleLinear([low, high > low ? high : low + 1], [DOT_HEIGHT, 0]).nice(4);
  const ticks = y.ticks(4);
  const step = (ticks[1] ?? 1) - (ticks[0] ?? 0);
  return {
    y: (value: number) => y(value),
    x: (place: number) => ((place + 0.5) / Math.max(1, dots.length)) * DOT_WIDTH,
    ticks,
    decimals: Math.max(0, Math.ceil(-Math.log10(step) - 1e-9)),
  };
}
