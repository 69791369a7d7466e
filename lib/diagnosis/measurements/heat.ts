import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Measurement } from "@/lib/diagnosis/finding";
import { isLoaded, soundProbes } from "@/lib/diagnosis/heat-spread";
import { roundingOf } from "@/lib/readings/measure/resolution";
import { steepestRiseKPerMin, widestTemperatureSpreadK } from "@/lib/readings/measure/temperature-rates";
import { rangeOf } from "@/lib/readings/measure/value-range";

/** Gradients, rates and extremes of the probes that are not at fault. */
export function heatMeasurements(evidence: Evidence): Measurement[] {
  const { survey } = evidence;
  const { log } = survey;
  const limits = evidence.settings.verdict;
  const sound = soundProbes(evidence);
  const columns = sound.map(({ valuesC }) => valuesC);
  const roundingK = Math.max(0, ...sound.map((probe) => roundingOf(probe.valuesC)));
  const spread = (name: string, conditions: string, counts: (row: number) => boolean): Measurement[] => {
    const found = widestTemperatureSpreadK(columns, counts);
    if (found === null) return [];
    const method = "largest difference between probes in one row";
    return [
      {
        name,
        group: null,
        value: found.spreadK,
        unit: "K",
        uncertainty: Math.SQRT2 * roundingK,
        method,
        conditions: `${conditions}; rounding only, offsets of the probes come on top`,
      },
    ];
  };
  const overS = Math.max(60, survey.medianIntervalS);
  const rates = sound.flatMap((probe): Measurement[] => {
    const rise = steepestRiseKPerMin(log.timeS, probe.valuesC, overS);
    if (rise === null) return [];
    const method = "steepest rise over about one minute";
    const conditions = `${probe.name}, line ${log.line[rise.row] ?? 0}`;
    return [
      {
        name: "heating-rate",
        group: null,
        value: rise.rate,
        unit: "K/min",
        uncertainty: (60 * Math.SQRT2 * roundingOf(probe.valuesC)) / overS,
        method,
        conditions,
      },
    ];
  });
  const hottest = columns.map((column) => rangeOf(column).highest).filter(Number.isFinite);
  return [
    ...spread("temperature-gradient-load", `|I| of at least ${limits.loadedPerHour} / h of rated capacity`, (row) =>
      isLoaded(evidence, row),
    ),
    ...spread(
      "temperature-gradient-rest",
      "after an hour of rest",
      (row) => (survey.restingS[row] ?? -1) >= limits.evenedOutS,
    ),
    ...rates,
    ...(hottest.length === 0
      ? []
      : [
          {
            name: "temperature-highest",
            group: null,
            value: Math.max(...hottest),
            unit: "degC",
            uncertainty: roundingK,
            method: "highest reading of a sound probe",
            conditions: `${sound.length} probes; rounding only`,
          },
        ]),
  ];
}
