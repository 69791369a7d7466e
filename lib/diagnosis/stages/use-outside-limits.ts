import type { DiagnosisSettings } from "@/lib/diagnosis/diagnosis-settings";
import type { MeasurementFaults } from "@/lib/diagnosis/stages/measurement-faults";
import type { PackModel } from "@/lib/packs/pack-model";
import { type AbuseEvents, abuseEvents } from "@/lib/readings/measure/abuse-events";
import { everyNth } from "@/lib/readings/measure/every-nth";
import { quantile } from "@/lib/readings/measure/median";
import { type OpenCircuitCurve, voltageAtSoc } from "@/lib/readings/measure/open-circuit";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";

export interface UseOutsideLimits {
  readonly abuse: readonly AbuseEvents[];
  /** A. Largest discharge current, single spikes left out. */
  readonly largestLoadA: number;
}

/** Share of rows below which a load counts as the largest: single spikes of a sensor are none. */
const spikesLeftOut = 0.999;
/** Currents looked at for it. Engineering default. */
const currentsLookedAt = 100_000;

/** Stage 8: what was asked of the pack beyond its limits, by groups and probes that can be believed. Facts, no blame. */
export function useOutsideLimits(
  survey: RowSurvey,
  { doubtfulGroups, soundProbes }: Pick<MeasurementFaults, "doubtfulGroups" | "soundProbes">,
  curve: OpenCircuitCurve | null,
  model: PackModel,
  settings: DiagnosisSettings,
): UseOutsideLimits {
  const { currentA } = survey.log;
  const sampled = everyNth(currentA, Math.ceil(currentA.length / currentsLookedAt));
  const loadA = sampled.map((current) => Math.max(0, -current));
  return {
    abuse: abuseEvents(survey, model, doubtfulGroups, soundProbes, settings.abuse, emptyBelowV(curve, model, settings)),
    largestLoadA: quantile(loadA, spikesLeftOut) ?? 0,
  };
}

/** Voltage below which a rested group counts as empty: by the model's own curve where it is known. */
function emptyBelowV(curve: OpenCircuitCurve | null, model: PackModel, { abuse }: DiagnosisSettings): number {
  if (curve?.source !== "pack model") return abuse.emptyV;
  return Math.max(abuse.emptyV, footV(model, abuse) ?? voltageAtSoc(curve, abuse.emptyPercent));
}

/**
 * Way up from empty to the first point of a coarse table at which half its charge lies, of layered oxide. Published cells with points
 * between (PyBaMM, commit 7c9f5bd): Chen 2020 0.77, Ecker 2015 0.83 at 5 of 10 %. A straight line would say 0.5.
 */
const footBend = 0.8;

/** The same where the table has no point as low: cells fall ever steeper towards empty. Null where it has, or of another chemistry. */
function footV({ openCircuit = [], cellMaxV }: PackModel, abuse: DiagnosisSettings["abuse"]): number | null {
  const [foot, next] = openCircuit;
  if (foot === undefined || next === undefined || cellMaxV < abuse.layeredFromV) return null;
  const share = (abuse.emptyPercent - foot[0]) / (next[0] - foot[0]);
  if (!(share > 0 && share < 1)) return null;
  const up = share <= 0.5 ? 2 * share * footBend : footBend + 2 * (share - 0.5) * (1 - footBend);
  return foot[1] + up * (next[1] - foot[1]);
}
