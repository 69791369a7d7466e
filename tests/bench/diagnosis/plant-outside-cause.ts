import { type PlantedFault, type PlantRequest, sized } from "./planted-fault";
import type { Act, UseScript } from "./use-script";

/** What a fault asks of the use: a script of its own where the ordinary one could never show it. */
export interface OutsideCause {
  readonly planted: PlantedFault;
  readonly script: UseScript;
}

/** Charger, settings or use outside the limits: nothing inside is broken. */
export function plantOutsideCause(request: PlantRequest): OutsideCause {
  const { chance, severity, bench, script } = request;
  const { model } = bench;
  const kind = chance.pick([
    "charger voltage too high",
    "charger current too high",
    "charged in the cold",
    "current too high",
    "stored empty",
    "charged in the heat",
    "stored hot",
  ]);
  const excessV = kind === "charger voltage too high" ? 0.06 * model.groups * (1 + 2 * severity) : 0;
  const chargeA = kind === "charger current too high" ? model.chargeMaxA * (1.2 + severity) : 0.8 * model.chargeMaxA;
  const colder = kind === "charged in the cold" ? -2 - 12 * severity : null;
  const hotterC = kind === "charged in the heat" ? 49 + 8 * severity : kind === "stored hot" ? 61 + 6 * severity : null;
  const acts = script.acts.map((act): Act => {
    if (act.act === "charge") return { ...act, excessV, currentA: chargeA };
    if (act.act !== "ride" || kind !== "current too high") return act;
    const most = ((1.25 + severity) * model.peakDischargeA) / model.continuousDischargeA;
    return { ...act, style: { ...act.style, usual: 1.1 + 0.4 * severity, most, beyondPeak: true } };
  });
  const emptyDays = 15 + 20 * severity;
  const used: UseScript =
    kind === "stored empty"
      ? {
          ...script,
          startPercent: 9,
          acts: [{ act: "ride", minutes: 20, style: quiet, stopPercent: 2.5 }, rest(24 * emptyDays)],
        }
      : kind === "stored hot"
        ? { ...script, ambientC: hotterC ?? script.ambientC, acts: [rest(3 + 20 * severity)] }
        : { ...script, ambientC: colder ?? hotterC ?? script.ambientC, acts };
  const size =
    kind === "charger voltage too high"
      ? excessV
      : kind === "charger current too high"
        ? chargeA / model.chargeMaxA
        : kind === "charged in the cold"
          ? (colder ?? 0)
          : kind === "stored empty"
            ? emptyDays
            : (hotterC ?? 1.25 + severity);
  return {
    script: used,
    planted: {
      fault: "outside-cause",
      groups: [],
      severity,
      kind,
      size: sized(1, size, size),
      unit:
        {
          "charger voltage too high": "V",
          "charged in the cold": "degC",
          "charged in the heat": "degC",
          "stored hot": "degC",
          "stored empty": "days",
        }[kind] ?? "times the limit",
      alsoTrue: kind === "stored empty" ? ["over-discharge"] : kind === "current too high" ? ["power-stage-fault"] : [],
      mischief: {
        start(run) {
          run.protects = false;
        },
      },
    },
  };
}

const quiet = { usual: 0.25, most: 0.5, holdS: [4, 30], recovers: false } as const;
const rest = (hours: number): Act => ({ act: "rest", hours });
