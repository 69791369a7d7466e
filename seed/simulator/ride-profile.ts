import type { PackModel } from "@/lib/packs/pack-model";
import type { SeededRandom } from "./seeded-random";

/** What a rider asks of the pack in each second, A, negative when discharging. Braking gives a little back. */
export function rideProfile(model: PackModel, seconds: number, random: SeededRandom): Float64Array {
  const demandA = new Float64Array(seconds);
  const continuousA = Math.min(model.continuousDischargeA, 3 * model.ratedCapacityAh);
  const peakA = Math.min(model.peakDischargeA, 1.7 * continuousA);
  let at = 0;
  while (at < seconds) {
    // Even pull first, so that the step that follows starts from a settled current.
    const cruiseA = random.between(0.28, 0.62) * continuousA;
    at = hold(demandA, at, random.integer(12, 26), -cruiseA, 0.012 * cruiseA, random);
    const pullA = random.between(0.7, 1) * (random.chance(0.35) ? peakA : continuousA);
    const pullSeconds = Math.min(random.integer(11, 16), Math.floor(model.peakSeconds));
    at = hold(demandA, at, pullSeconds, -pullA, 0.015 * pullA, random);
    if (random.chance(0.55)) {
      at = hold(demandA, at, random.integer(4, 18), 0, 0, random);
    }
    if (random.chance(0.3)) {
      const regenA = 0.25 * model.chargeMaxA;
      at = hold(demandA, at, random.integer(2, 5), regenA, 0.05 * regenA, random);
    }
  }
  return demandA;
}

function hold(
  demandA: Float64Array,
  from: number,
  seconds: number,
  meanA: number,
  ripple: number,
  random: SeededRandom,
) {
  const until = Math.min(demandA.length, from + seconds);
  for (let s = from; s < until; s++) {
    demandA[s] = meanA + (ripple > 0 ? random.normal(0, ripple) : 0);
  }
  return until;
}
