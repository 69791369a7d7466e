import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Measurement } from "@/lib/diagnosis/finding";
import { counted, inDigits, inTime } from "@/lib/diagnosis/wording";
import { equivalentFullCycles } from "@/lib/readings/measure/equivalent-full-cycles";

/** How the pack was used in this log: cycles, largest load, use outside the limits. */
export function useMeasurements(evidence: Evidence): Measurement[] {
  const { survey, model } = evidence;
  return [
    {
      name: "equivalent-full-cycles",
      group: null,
      value: equivalentFullCycles(survey.log, model.ratedCapacityAh),
      unit: "1",
      uncertainty: null,
      method: "charge moved either way over twice the rated capacity",
      conditions: "this log only",
    },
    {
      name: "largest-discharge",
      group: null,
      value: evidence.largestLoadA,
      unit: "A",
      uncertainty: null,
      method: "99.9 % quantile of the discharge current",
      conditions: "this log only",
    },
    ...cyclesLogged(evidence),
    ...evidence.abuse.map((event) => ({
      name: event.kind.replaceAll(" ", "-"),
      group: event.groups[0] ?? null,
      value: event.worst,
      unit: event.unit,
      uncertainty: null,
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
