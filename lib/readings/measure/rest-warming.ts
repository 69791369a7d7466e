import { median } from "@/lib/readings/measure/median";
import { restPeriods } from "@/lib/readings/measure/rest-periods";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/** A place that is warmer than the rest of a parked pack. */
export interface RestWarming {
  readonly probe: string;
  /** K above the other probes, and K by which that grew from the first third of the rest to the last. */
  readonly aboveK: number;
  readonly grewK: number;
}

interface Probe {
  readonly name: string;
  readonly valuesC: Float64Array;
}

/** K of a standing difference, and of its growth, from which a place counts as warm. Engineering defaults: a probe is good to 1 or 2 K. */
const standsK = 3;
const growsK = 1.5;
/** s of rest after which the warmth of use has evened out, and s of rest that must follow. Engineering defaults. */
const evenedOutS = 4 * 3600;
const watchedS = 6 * 3600;
/** Points a rest is thinned to. */
const points = 150;

/**
 * The warmest place while the pack rests, if any is warm: against the median of the other probes, or against `ambientC`
 * where there is but one. "no witness" where nothing stands beside a probe, or no rest is long enough.
 */
export function restWarming(
  survey: RowSurvey,
  probes: readonly Probe[],
  ambientC: Float64Array | null,
): RestWarming | "none" | "no witness" {
  if (probes.length === 0 || (probes.length === 1 && ambientC === null)) return "no witness";
  const rests = restPeriods(survey, evenedOutS + watchedS);
  let warmest: RestWarming | null = null;
  let judged = false;
  for (const { startRow, endRow } of rests) {
    const rows = thinned(survey, startRow, endRow);
    for (const probe of probes) {
      const others = probes.length === 1 && ambientC !== null ? [ambientC] : beside(probes, probe);
      const above = rows
        .map(
          (row) =>
            (probe.valuesC[row] ?? Number.NaN) -
            (median(others.map((other) => other[row] ?? Number.NaN)) ?? Number.NaN),
        )
        .filter(Number.isFinite);
      const third = Math.floor(above.length / 3);
      if (third < 2) continue;
      judged = true;
      const aboveK = median(above) ?? 0;
      const grewK = (median(above.slice(-third)) ?? 0) - (median(above.slice(0, third)) ?? 0);
      const isWarm = aboveK >= standsK || grewK >= growsK;
      if (isWarm && (warmest === null || aboveK + grewK > warmest.aboveK + warmest.grewK))
        warmest = { probe: probe.name, aboveK, grewK };
    }
  }
  return warmest ?? (judged ? "none" : "no witness");
}

function beside(probes: readonly Probe[], probe: Probe): Float64Array[] {
  return probes.filter((other) => other !== probe).map(({ valuesC }) => valuesC);
}

function thinned({ log, restingS }: RowSurvey, startRow: number, endRow: number): number[] {
  const rows: number[] = [];
  const stride = Math.max(1, Math.floor((endRow - startRow) / points));
  for (let row = startRow; row <= endRow; row += stride) {
    if ((restingS[row] ?? -1) >= evenedOutS && Number.isFinite(log.timeS[row])) rows.push(row);
  }
  return rows;
}
