import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Measurement } from "@/lib/diagnosis/finding";
import { soundProbes } from "@/lib/diagnosis/heat-spread";
import { lackingCurrent } from "@/lib/diagnosis/missing-current";
import { ownCounter } from "@/lib/diagnosis/own-counter";
import { counted, inDigits, inTime } from "@/lib/diagnosis/wording";
import type { AbuseEvents } from "@/lib/readings/measure/abuse-events";
import { equivalentFullCycles } from "@/lib/readings/measure/equivalent-full-cycles";
import { harmfulUse } from "@/lib/readings/measure/harmful-use";
import { median } from "@/lib/readings/measure/median";
import { voltageAtSoc } from "@/lib/readings/measure/open-circuit";
import { roundingOf, roundingOfStep } from "@/lib/readings/measure/resolution";

/** How the pack was used in this log: cycles, largest load, use outside the limits. */
export function useMeasurements(evidence: Evidence): Measurement[] {
  const { survey, model, settings } = evidence;
  const { currentGainShare } = settings.measure;
  const lacking = lackingCurrent(survey);
  const cycles = equivalentFullCycles(survey.log, model.ratedCapacityAh);
  return [
    {
      name: "equivalent-full-cycles",
      group: null,
      value: cycles,
      unit: "1",
      uncertainty: lacking.doubtShare === null ? null : Math.hypot(currentGainShare, lacking.doubtShare) * cycles,
      method: "charge moved either way over twice the rated capacity",
      conditions: `this log only${lacking.words}`,
    },
    ...(evidence.directionKnown ? [largestDischarge(evidence)] : []),
    ...cyclesLogged(evidence),
    ...harmful(evidence),
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

function largestDischarge({ largestLoadA, settings }: Evidence): Measurement {
  return {
    name: "largest-discharge",
    group: null,
    value: largestLoadA,
    unit: "A",
    uncertainty: settings.measure.currentGainShare * largestLoadA,
    method: "99.9 % quantile of the discharge current",
    conditions: "this log only",
  };
}

/** Charge in the frost and hours hot near full: what ages cells without breaking a limit for long. Left out where there was none. */
function harmful(evidence: Evidence): Measurement[] {
  const { survey, model, settings, curve } = evidence;
  const { hotFullC, hotFullPercent } = settings.abuse;
  const found = harmfulUse(
    survey,
    soundProbes(evidence).map(({ valuesC }) => valuesC),
    {
      chargeMinTemperatureC: model.chargeMinTemperatureC,
      hotC: hotFullC,
      fullPercent: hotFullPercent,
      fullV: curve === null ? Number.POSITIVE_INFINITY : voltageAtSoc(curve, hotFullPercent),
    },
  );
  if (found === null) return [];
  const conditions = "this log only, gaps not bridged: the least that happened";
  const cold: Measurement = {
    name: "cold-charge-moved",
    group: null,
    value: found.coldChargeAh,
    unit: "Ah",
    uncertainty: settings.measure.currentGainShare * found.coldChargeAh,
    method: `charge put in while the coldest probe read below ${model.chargeMinTemperatureC} degC`,
    conditions,
  };
  const hot: Measurement = {
    name: "hot-and-full",
    group: null,
    value: found.hotAndFullS / 86_400,
    unit: "days",
    uncertainty: survey.medianIntervalS / 86_400,
    method: `time with a probe above ${hotFullC} degC while the pack held ${hotFullPercent} % of charge or more`,
    conditions,
  };
  const countsCold = evidence.directionKnown && found.coldChargeAh > 0;
  return [...(countsCold ? [cold] : []), ...(found.hotAndFullS > 0 ? [hot] : [])];
}

/** The counter as the file carries it: some monitors count starts, so it is no more than what the pack says of itself. */
function cyclesLogged(evidence: Evidence): Measurement[] {
  const counted = ownCounter(evidence);
  if (counted === null || counted.doubt !== null) return [];
  const method = "last value of the pack's own counter";
  return [
    {
      name: "cycle-count",
      group: null,
      value: counted.cycles,
      unit: "1",
      uncertainty: null,
      method,
      conditions: "as logged",
    },
  ];
}

/** What one reading of this kind is known to; days are counted from the clock and need none. */
function ofReading({ survey, settings }: Evidence, { unit, worst }: AbuseEvents): number | null {
  if (unit === "A") return settings.measure.currentGainShare * Math.abs(worst);
  if (unit === "days") return null;
  if (unit === "V") return median(survey.resolutionV.map(roundingOfStep));
  return median(survey.log.temperatures.map(({ valuesC }) => roundingOf(valuesC)));
}
