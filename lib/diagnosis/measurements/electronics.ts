import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Measurement } from "@/lib/diagnosis/finding";
import { switchWarming } from "@/lib/diagnosis/switch-warming";
import { counted, inDigits } from "@/lib/diagnosis/wording";
import { balancingDrops } from "@/lib/readings/measure/balancing-drop";

/** The power stage and the balancing leads. */
export function electronicsMeasurements(evidence: Evidence): Measurement[] {
  return [...heating(evidence), ...leads(evidence)];
}

function heating(evidence: Evidence): Measurement[] {
  const { heating: found, probes } = switchWarming(evidence);
  if (found === null) return [];
  const conditions = `${counted(found.rows, "row")}, load up to ${inDigits(found.largestA, 0)} A over a minute, against the median of ${probes} probes`;
  const rise: Measurement = {
    name: "switch-heating",
    group: null,
    value: found.kelvinPer1000A2,
    unit: "K/1000 A2",
    uncertainty: Number.isFinite(found.error) ? found.error : null,
    method:
      "trimmed least-squares slope of switch temperature above the probes on the square of the current over a minute",
    conditions: `${conditions}; a third more than is usual for the model is ageing`,
  };
  if (found.halves === null || found.halves[0] <= 0) return [rise];
  const [first, second] = found.halves;
  return [
    rise,
    {
      name: "switch-heating-trend",
      group: null,
      value: (second / first - 1) * 100,
      unit: "%",
      uncertainty: Number.isFinite(found.error) ? (200 * found.error) / found.kelvinPer1000A2 : null,
      method: "the same slope in the second half of the log over the first",
      conditions,
    },
  ];
}

function leads({ survey, settings }: Evidence): Measurement[] {
  const ampere = settings.measure.balanceCurrentA;
  return balancingDrops(survey).map(({ group, dropV, errorV, changes }) => ({
    name: "balancing-lead-resistance",
    group,
    value: dropV / (2 * ampere),
    unit: "Ohm",
    uncertainty: errorV / (2 * ampere),
    method: "drop of the reading while the group is balanced over twice the balance current: both of its leads",
    conditions: `${counted(changes, "switching")} of its balancer, balance current taken as ${inDigits(ampere * 1000, 0)} mA (a setting of the model); cell and lead together`,
  }));
}
