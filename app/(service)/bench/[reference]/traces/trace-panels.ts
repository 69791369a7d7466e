import type { TracePicture, TraceSeries } from "@/lib/readings/trace-picture";

/** A trace as it is drawn: emphasised ones carry colour, weight and their name, the others are context. */
export interface PanelTrace {
  readonly series: TraceSeries;
  /** Position in the list of series styles; null for context drawn in grey. */
  readonly style: number | null;
}

export interface TracePanelFacts {
  readonly title: string;
  readonly unit: string;
  readonly heightPx: number;
  /** Between the lowest and the highest group lie all groups; null where the panel has no such band. */
  readonly band: { readonly lowest: TraceSeries; readonly highest: TraceSeries } | null;
  readonly traces: readonly PanelTrace[];
  /** Where zero matters: the line between charging and discharging. */
  readonly marksZero: boolean;
}

/**
 * The three pictures that share one time: cell groups, current, temperatures. Each group that a finding names is drawn
 * over the band in which all groups lie. A picture without values is left out.
 */
export function tracePanels({ series }: TracePicture): TracePanelFacts[] {
  const named = (key: string) => series.find((one) => one.key === key);
  const lowest = named("lowest-cell");
  const highest = named("highest-cell");
  const groups = series.filter(({ group }) => group !== null);
  const current = named("current");
  // The busiest line takes the first style, which is the only one without gaps.
  const probes = [
    ...series.filter(({ key, unit }) => unit === "degC" && key === "mosfet"),
    ...series.filter(({ key, unit }) => unit === "degC" && key !== "mosfet"),
  ];
  const panels: TracePanelFacts[] = [
    {
      title: "Cell groups",
      unit: "V",
      heightPx: 190,
      band: lowest === undefined || highest === undefined ? null : { lowest, highest },
      traces: groups.map((one, position) => ({ series: one, style: position })),
      marksZero: false,
    },
    {
      title: "Current, positive when charging",
      unit: "A",
      heightPx: 120,
      band: null,
      traces: current === undefined ? [] : [{ series: current, style: 0 }],
      marksZero: true,
    },
    {
      title: "Temperatures",
      unit: "°C",
      heightPx: 120,
      band: null,
      traces: probes.map((one, position) => ({ series: one, style: position })),
      marksZero: false,
    },
  ];
  return panels.filter(({ band, traces }) => band !== null || traces.length > 0);
}
