import type { ResistanceBeside } from "@/lib/diagnosis/built-beside-found";
import { type GroupDot, normal95 } from "@/lib/diagnosis/group-dot";
import { medianOf } from "@/lib/readings/median";

export interface ResistanceDots {
  readonly dots: readonly GroupDot[];
  /** Where a group is high by its ratio to the middle group; its finding also asks how far it stands out of the scatter. */
  readonly thresholdMilliohm: number;
  readonly thresholdWords: string;
  /** By what the built values are multiplied to be drawn; null where there are none. */
  readonly scaleOfBuilt: number | null;
  readonly sentence: string;
}

/** Kind of measurement the verdict on resistance rests on, whatever is drawn. */
const judgedKind = "resistance-regression";

/**
 * Found resistances with 95 % limits, the ratio a finding asks for (that of the model the file was judged by), built values
 * brought to the same middle. Marked are the groups a finding names and those that left their built value. Null without any.
 */
export function resistanceDots(
  { groups, found }: ResistanceBeside,
  highRatio: number,
  namedHigh: ReadonlySet<number>,
): ResistanceDots | null {
  const measured = groups.filter(({ foundMilliohm }) => foundMilliohm !== null);
  if (found === null || measured.length === 0) return null;
  const middle = medianOf(measured.map(({ foundMilliohm }) => foundMilliohm ?? Number.NaN));
  const thresholdMilliohm = middle * highRatio;
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
      isMarked: namedHigh.has(group) || standsOut,
    };
  });
  const judgedBy =
    found.name === judgedKind
      ? ""
      : " The verdict rests on the slope over all load steps, which is in the list of measurements.";
  return {
    dots,
    thresholdMilliohm,
    thresholdWords: `${highRatio} times the middle group`,
    scaleOfBuilt,
    sentence: `${sentenceOf(dots, middle, highRatio, namedHigh)} Found by: ${found.method}.${judgedBy}`,
  };
}

function sentenceOf(
  dots: readonly GroupDot[],
  middle: number,
  highRatio: number,
  namedHigh: ReadonlySet<number>,
): string {
  const [highest] = dots.toSorted((a, b) => b.value - a.value);
  if (highest === undefined) return "No group was measured.";
  const against = `${highest.value.toFixed(3)} mΩ against ${middle.toFixed(3)} mΩ in the middle group`;
  const more = `${Math.round((highest.value / middle - 1) * 100)} % more`;
  const verdict = namedHigh.has(highest.group)
    ? "high also against the scatter of the others"
    : highest.value >= middle * highRatio
      ? `more than ${highRatio} times it, but by the load steps not far enough out of the scatter to be called high`
      : `less than the ${highRatio} times from which a group can be called high`;
  return `Group ${highest.group} reads highest, ${against} (${more}): ${verdict}.`;
}

const highFaults: ReadonlySet<string> = new Set(["high-resistance-cell", "high-resistance-joint"]);

/** Groups that stored findings call high in resistance. */
export function groupsCalledHigh(
  findings: readonly { readonly fault: string; readonly groups: readonly number[] }[],
): ReadonlySet<number> {
  return new Set(findings.flatMap(({ fault, groups }) => (highFaults.has(fault) ? groups : [])));
}
