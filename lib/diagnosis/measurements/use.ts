import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Measurement } from "@/lib/diagnosis/finding";
import { counted, inDigits, inTime } from "@/lib/diagnosis/wording";
import type { AbuseEvents } from "@/lib/readings/measure/abuse-events";
import { equivalentFullCycles } from "@/lib/readings/measure/equivalent-full-cycles";
import { median } from "@/lib/readings/measure/median";
import { roundingOf } from "@/lib/readings/measure/resolution";

/** How the pack was used in this log: cycles, largest load, use outside the limits. */
export function useMeasurements(evidence: Evidence): Measurement[] {
  const { survey, model, settings } = evidence;
  const { currentGainShare } = settings.measure;
  const cycles = equivalentFullCycles(survey.log, model.ratedCapacityAh);
  return [
    {
      name: "equivalent-full-cycles",
      group: null,
      value: cycles,
      unit: "1",
      uncertainty: currentGainShare * cycles,
      method: "charge moved either way over twice the rated capacity",
      conditions: "this log only",
    },
    {
      name: "largest-discharge",
      group: null,
      value: evidence.largestLoadA,
      unit: "A",
      uncertainty: currentGainShare * evidence.largestLoadA,
      method: "99.9 % quantile of the discharge current",
      conditions: "this log only",
    },
    ...cyclesLogged(evidence),
    ...evidence.abuse.map((event) => ({
      name: event.kind.replaceAll(" ", "-"),
      group: event.groups[0] ?? null,
      value: event.worst,
      unit: event.unit,
      uncertainty: ofReading(evidence, event),
      method: "worst value while outside the model's limits",
      conditions: `${counted(event.count, "time")}, ${inTime(event.totalS)} in all, from ${inDigits(event.firstS, 0)} to ${inDigits(event.lastS, 0)} s${event.groups.length > 1 ? `, groups ${event.groups.join(", ")}` : ""}`,
    })),
  ];
}

/** The counter as the file carries it: some monitors count starts, so it is no more than what the pack says of itself. */
function cyclesLogged({ survey }: Evidence): Measurement[] {
  const last = survey.log.cycleCount?.findLast(Number.isFinite);
  if (last === undefined) return [];
  const method = "last value of the pack's own counter";
  return [
    { name: "cycle-count", group: null, value: last, unit: "1", uncertainty: null, method, conditions: "as logged" },
  ];
}

/** What one reading of this kind is known to; days are counted from the clock and need none. */
function ofReading({ survey, settings }: Evidence, { unit, worst }: AbuseEvents): number | null {
  const { log } = survey;
  if (unit === "A") return settings.measure.currentGainShare * Math.abs(worst);
  if (unit === "days") return null;
  const columns = unit === "V" ? log.cellVoltagesV : log.temperatures.map(({ valuesC }) => valuesC);
  return median(columns.map(roundingOf));
}
