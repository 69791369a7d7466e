import type { Evidence } from "@/lib/diagnosis/evidence";
import { oncePerEvidence } from "@/lib/diagnosis/once-per-evidence";
import { mayBeBled } from "@/lib/diagnosis/watched-drift";
import { median, scaledMad } from "@/lib/readings/measure/median";
import {
  type OpenCircuitCurve,
  slopeDoubtShare,
  socAtVoltage,
  voltageAtSoc,
} from "@/lib/readings/measure/open-circuit";
import type { DrawnDrift } from "@/lib/readings/measure/rest-drift";
import type { StandingDraw } from "@/lib/readings/measure/row-survey";

/** A group that lost more through a rest than the common current takes from one of its size. % of its charge per day, positive. */
export interface LeakUnderDraw {
  readonly group: number;
  readonly percentPerDay: number;
  readonly error: number;
  readonly draw: StandingDraw;
}

/**
 * Leaks that stand out under a common current. It moves a group by the inverse of its size, so what the fit of charge and load says of
 * the size is taken off first, with its error; charge is read at each group's own voltage, as unlike groups stand where the curve is
 * unlike. Only by the model's own curve, and only where the size is known: elsewhere nothing is found, and the pack is not called sound.
 */
export const leaksUnderDraws = oncePerEvidence((evidence): readonly LeakUnderDraw[] => {
  const { curve, drawnDrifts } = evidence;
  if (curve?.source !== "pack model") return [];
  return drawnDrifts.flatMap((drawn) => inOneRest(evidence, curve, drawn));
});

function inOneRest(evidence: Evidence, curve: OpenCircuitCurve, { draw, drift }: DrawnDrift): LeakUnderDraw[] {
  const { states, doubtfulGroups, settings } = evidence;
  const { drawSigmas, drawScatters, drawLeastScatterShare, unlikeFromPercent } = settings.leak;
  const commonPercent = -draw.percentPerDay * drift.days;
  const endOfMedian = socAtVoltage(curve, drift.referenceV);
  const startOfMedian = endOfMedian + commonPercent;
  const fellV = voltsBetween(curve, startOfMedian, endOfMedian);
  const leaks = Array.from(drift.millivoltPerDay, (rate, index) => {
    const size = states?.groups[index]?.shortfall;
    if (size === undefined || doubtfulGroups.has(index + 1)) return null;
    const endV = drift.referenceV + (drift.endMillivolt[index] ?? Number.NaN) / 1000;
    const startV = endV + fellV - (rate * drift.days) / 1000;
    const [start, end] = [socAtVoltage(curve, startV), socAtVoltage(curve, endV)];
    const lost = start - end - (1 + size.estimate) * commonPercent;
    const blurV = ((drift.errorMillivoltPerDay[index] ?? Number.NaN) * drift.days) / 1000;
    const apart = Math.abs(start - startOfMedian + end - endOfMedian) / 2;
    const error = Math.hypot(
      socAtVoltage(curve, startV + blurV / 2) - socAtVoltage(curve, startV - blurV / 2),
      size.sd * commonPercent,
      slopeDoubtShare(curve, (start + end) / 2) * Math.min(1, apart / unlikeFromPercent) * commonPercent,
    );
    return { group: index + 1, percentPerDay: lost / drift.days, error: error / drift.days, draw };
  });
  const rates = leaks.map((leak) => leak?.percentPerDay ?? Number.NaN);
  const middle = median(rates);
  if (middle === null || rates.filter(Number.isFinite).length < 4) return [];
  const scatter = Math.max(scaledMad(rates) ?? 0, drawLeastScatterShare * Math.abs(draw.percentPerDay));
  return leaks.flatMap((leak) => {
    if (leak === null) return [];
    const percentPerDay = leak.percentPerDay - middle;
    const least = Math.max(settings.verdict.driftPercentPerDay, drawSigmas * leak.error, drawScatters * scatter);
    return percentPerDay >= least && !mayBeBled(evidence, drift, leak.group) ? [{ ...leak, percentPerDay }] : [];
  });
}

function voltsBetween(curve: OpenCircuitCurve, from: number, to: number): number {
  return voltageAtSoc(curve, from) - voltageAtSoc(curve, to);
}
