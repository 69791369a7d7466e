import type { ResistanceBeside } from "@/lib/diagnosis/built-beside-found";
import { type GroupDot, normal95 } from "@/lib/diagnosis/group-dot";
import { defaultVerdictThresholds } from "@/lib/diagnosis/verdict-thresholds";
import { medianOf } from "@/lib/readings/median";

export interface ResistanceDots {
  readonly dots: readonly GroupDot[];
  readonly thresholdMilliohm: number;
  /** By what the built values are multiplied to be drawn; null where there are none. */
  readonly scaleOfBuilt: number | null;
  readonly sentence: string;
}

/** Found resistances with 95 % limits, the limit of a finding, built values brought to the same middle. Null without any. */
export function resistanceDots({ groups, found }: ResistanceBeside): ResistanceDots | null {
  const measured = groups.filter(({ foundMilliohm }) => foundMilliohm !== null);
  if (found === null || measured.length === 0) return null;
  const middle = medianOf(measured.map(({ foundMilliohm }) => foundMilliohm ?? Number.NaN));
  const thresholdMilliohm = middle * defaultVerdictThresholds.resistanceRatio;
  const ratios = groups.map(({ builtMilliohm, foundMilliohm }) =>
    builtMilliohm === null || builtMilliohm <= 0 || foundMilliohm === null ? Number.NaN : foundMilliohm / builtMilliohm,
  );
  const middleRatio = medianOf(ratios);
  const scaleOfBuilt = Number.isFinite(middleRatio) ? middleRatio : null;
  const dots = measured.map(({ group, foundMilliohm, builtMilliohm, uncertaintyMilliohm, standsOut }) => {
    const value = foundMilliohm ?? 0;
    return {
      group,
      value,
      limits: normal95(value, uncertaintyMilliohm),
      beside: builtMilliohm === null || scaleOfBuilt === null ? null : builtMilliohm * scaleOfBuilt,
      isMarked: value >= thresholdMilliohm || standsOut,
    };
  });
  return { dots, thresholdMilliohm, scaleOfBuilt, sentence: sentenceOf(dots, middle, thresholdMilliohm, found.method) };
}

function sentenceOf(dots: readonly GroupDot[], middle: number, threshold: number, method: string): string {
  const [highest] = dots.toSorted((a, b) => b.value - a.value);
  if (highest === undefined) return "No group was measured.";
  const against = `${highest.value.toFixed(3)} mΩ against ${middle.toFixed(3)} mΩ in the middle group`;
  const verdict =
    highest.value >= threshold
      ? `above ${threshold.toFixed(3)} mΩ, from which a group is called high`
      : `below ${threshold.toFixed(3)} mΩ, from which a group is called high`;
  return `Group ${highest.group} reads highest, ${against} (${Math.round((highest.value / middle - 1) * 100)} % more), ${verdict}. Found by: ${method}.`;
}
