import type { Evidence } from "@/lib/diagnosis/evidence";
import { oncePerEvidence } from "@/lib/diagnosis/once-per-evidence";
import { inDigits, inMillivolt, inTime } from "@/lib/diagnosis/wording";
import { coulombicEfficiency } from "@/lib/readings/measure/coulombic-efficiency";
import { energyThroughput } from "@/lib/readings/measure/energy-throughput";
import { idleCurrent } from "@/lib/readings/measure/idle-current";

/** Standard errors by which an efficiency must miss its range. Engineering default. */
const efficiencySigmas = 2;

/** Share of a step whose two rows differ by more than half that may be lost or gained. Engineering default. */
export const coarseDoubt = 0.3;

export interface DoubtfulCurrent {
  /** What came out of the charge put in between two rests, and its range, in words for the middle of a sentence. */
  readonly found: string;
  /** Also where a log too slow for its load is granted what it may have missed between its rows: then it is the sensor. */
  readonly isSensor: boolean;
}

/** More charge out than in, or far less: every Ah of this file rests on a current sensor that is in question. Null where it is not. */
export const doubtfulCurrent = oncePerEvidence(
  ({ survey, curve, settings, directionKnown }: Evidence): DoubtfulCurrent | null => {
    const loop = directionKnown && curve?.source === "pack model" ? coulombicEfficiency(survey, curve) : null;
    if (loop === null) return null;
    const [low, high] = settings.verdict.coulombicEfficiency;
    const { efficiency, error } = loop;
    const isOutside = (sigma: number) =>
      efficiency + efficiencySigmas * sigma < low || efficiency - efficiencySigmas * sigma > high;
    if (!isOutside(error)) return null;
    const missed = coarseDoubt * (energyThroughput(survey)?.coarseShare ?? 0);
    const range = `${inDigits(low * 100, 0)} to ${inDigits(high * 100, 0)} %`;
    return {
      found: `between two rests ${inDigits(efficiency * 100, 1)} % of the charge put in came out (± ${inDigits(error * 100, 1)}; ${range} are usual)`,
      isSensor: isOutside(Math.hypot(error, missed)),
    };
  },
);

/** What the sensor reads while nothing flows, where it is more than a count of charge can bear. */
export function zeroOfSensor({ survey, curve }: Evidence): string[] {
  const found = idleCurrent(survey, curve);
  if (found === null) return [];
  const { currentA, hours, wouldMoveV, movedV } = found;
  return [
    `Watch the current: its sensor reads ${inDigits(currentA, 2)} A through ${inTime(hours * 3600)} in which the group in the middle moves by ${inMillivolt(movedV)} and not by the ${inMillivolt(wouldMoveV)} such a current takes it: that is its zero, ${inDigits(24 * Math.abs(currentA), 1)} Ah miscounted in a day. Set it, and hold the sensor against a clamp meter.`,
  ];
}
