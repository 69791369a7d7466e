import { extremeGroups } from "./extreme-groups";
import type { ReadingLog } from "./reading-log";
import type { TraceSeries } from "./trace-picture";

/** One column of a log as it can be drawn. */
export interface TraceColumn extends Pick<TraceSeries, "key" | "label" | "unit" | "group"> {
  readonly values: Float64Array;
}

/** Every column of a log that can be drawn, each group among them, and the lowest and highest group of each row. */
export function traceColumns(log: ReadingLog): TraceColumn[] {
  const { lowest, highest } = extremeGroups(log.cellVoltagesV, log.rows);
  const column = (
    key: string,
    label: string,
    unit: TraceSeries["unit"],
    values: Float64Array,
    group: number | null = null,
  ) => ({ key, label, unit, values, group });
  return [
    column("current", "Current", "A", log.currentA),
    column("pack", "Pack voltage", "V", log.packVoltageV),
    column("lowest-cell", "Lowest group", "V", lowest),
    column("highest-cell", "Highest group", "V", highest),
    ...log.cellVoltagesV.map((values, index) =>
      column(`group-${index + 1}`, `Group ${index + 1}`, "V", values, index + 1),
    ),
    ...log.temperatures.map(({ name, valuesC }) => column(name, name, "degC", valuesC)),
    ...(log.mosfetTemperatureC ? [column("mosfet", "Power stage", "degC", log.mosfetTemperatureC)] : []),
    ...(log.socPercent ? [column("soc", "State of charge", "%", log.socPercent)] : []),
  ];
}
