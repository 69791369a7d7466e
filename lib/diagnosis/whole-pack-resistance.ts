import type { Baseline } from "@/lib/diagnosis/baseline";
import { foundMiddle, milliohmOfKind } from "@/lib/diagnosis/built-beside-found";
import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Measurement } from "@/lib/diagnosis/finding";
import { soundProbes } from "@/lib/diagnosis/heat-spread";
import { inDigits } from "@/lib/diagnosis/wording";
import { median } from "@/lib/readings/measure/median";

/** What the middle group is like beside packs outside this one: groups that are all worn alike stand out from nothing. */
export interface WholePackResistance {
  readonly missing: readonly string[];
  readonly remarks: readonly string[];
}

/** degC under which a resistance says more of the cold than of the pack. Engineering default. */
const coldBelowC = 10;

/**
 * Holds the middle group against sound packs of the revision by the same method, else against the pack's own build record
 * or the model's value, both of about ten seconds, where the file has that. Says so where nothing can be compared.
 */
export function wholePackResistance(
  evidence: Evidence,
  measurements: readonly Measurement[],
  baseline: Baseline | null,
): WholePackResistance {
  const found = foundMiddle(measurements);
  if (found === null) return { missing: [], remarks: [] };
  const beside = reference(evidence, found, measurements, baseline);
  const alone = "The groups were compared with each other only: were all worn alike, it would not show.";
  if (beside === null) return { missing: [], remarks: [alone] };
  const warmC = middleWarmthC(evidence);
  if (warmC !== null && warmC < coldBelowC) {
    const tooCold = `${alone.slice(0, -1)} (at ${inDigits(warmC, 0)} degC it was too cold to hold them against others).`;
    return { missing: [], remarks: [tooCold] };
  }
  const ratio = beside.milliohm / beside.usualMilliohm;
  if (!(ratio >= evidence.settings.verdict.wholePackRatio)) return { missing: [], remarks: [] };
  return {
    missing: [
      `Its middle group reads ${inDigits(beside.milliohm, 3)} mOhm, ${inDigits(ratio, 1)} times the ${inDigits(beside.usualMilliohm, 3)} mOhm of ${beside.whose}: the groups are alike, but all of them may be worn.`,
    ],
    remarks: [],
  };
}

interface Reference {
  readonly milliohm: number;
  readonly usualMilliohm: number;
  readonly whose: string;
}

/** Kind of measurement that built values and the model's value are of. */
const likeBuilt = "resistance-10s";

function reference(
  { model }: Evidence,
  found: { readonly name: string; readonly milliohm: number },
  measurements: readonly Measurement[],
  baseline: Baseline | null,
): Reference | null {
  const population = baseline?.population ?? null;
  const like = population?.outcome === "known" ? population.foundMiddleMilliohm[found.name] : undefined;
  if (like !== undefined) {
    const whose = `${like.packs} returned packs of its revision without a confirmed failure`;
    return { milliohm: found.milliohm, usualMilliohm: like.median, whose };
  }
  const milliohm = milliohmOfKind(measurements, likeBuilt);
  if (milliohm === null) return null;
  const built = median(baseline?.built?.groupResistanceMilliohm ?? []);
  if (built !== null && built > 0) return { milliohm, usualMilliohm: built, whose: "its own build record" };
  const ofModel = model.groupResistanceMilliohm;
  return ofModel === undefined ? null : { milliohm, usualMilliohm: ofModel, whose: "a sound pack of its model" };
}

/** Median of the sound probes under load, degC; null where none was logged. */
function middleWarmthC(evidence: Evidence): number | null {
  const { log, restCurrentA } = evidence.survey;
  const warm = soundProbes(evidence).flatMap(({ valuesC }) => {
    const middle = median(underLoad(valuesC, log.currentA, restCurrentA));
    return middle === null ? [] : [middle];
  });
  return median(warm);
}

function underLoad(column: Float64Array, currentA: Float64Array, restCurrentA: number): Float64Array {
  const kept = new Float64Array(column.length);
  let count = 0;
  for (let row = 0; row < column.length; row += 1) {
    if (!(Math.abs(currentA[row] ?? 0) > restCurrentA)) continue;
    kept[count] = column[row] ?? Number.NaN;
    count += 1;
  }
  return kept.subarray(0, count);
}
