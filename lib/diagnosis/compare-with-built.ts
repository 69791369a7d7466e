import type { Baseline } from "@/lib/diagnosis/baseline";
import {
  chargeToCutOff,
  foundMiddle,
  packCapacities,
  resistanceBeside,
  sagOfGroupsV,
} from "@/lib/diagnosis/built-beside-found";
import type { Finding, Measurement } from "@/lib/diagnosis/finding";
import type { HealthyPopulation } from "@/lib/diagnosis/healthy-population";
import { stateOfHealth } from "@/lib/diagnosis/state-of-health";
import { inDigits } from "@/lib/diagnosis/wording";

/**
 * As built beside as found, in whole sentences: capacity with what the cycles would explain, sag under the current of the
 * load test, matching then and spread now, groups that rose without standing out, and the pack against sound ones of its
 * revision. Built and found come from different tests; each sentence says so where it matters. A comparison that cannot
 * be made is left out, but never silently: where nothing can be compared, the one sentence says why.
 */
export function compareWithBuilt(
  measurements: readonly Measurement[],
  findings: readonly Pick<Finding, "groups">[],
  { built, population }: Baseline,
  { cyclesTo80Percent }: { readonly cyclesTo80Percent: number },
): string[] {
  const { groups } = resistanceBeside(built?.groupResistanceMilliohm ?? [], measurements);
  const sentences = [
    ...ofCapacity(measurements, built?.capacityAh ?? null, cyclesTo80Percent),
    ...ofSag(sagOfGroupsV(groups, built?.loadTestCurrentA ?? Number.NaN), built?.loadTestSagV, built?.loadTestCurrentA),
    ...ofMatching(measurements, built?.matchingSpreadMillivolt),
    ...groups.flatMap(({ group, growth, standsOut }) =>
      standsOut && growth !== null && !findings.some((finding) => finding.groups.includes(group))
        ? [
            `Watch group ${group}: since it was built it has risen ${inDigits((growth - 1) * 100, 0)} % more than the middle group, though it does not stand out among its neighbours.`,
          ]
        : [],
    ),
    ...ofPopulation(measurements, population),
  ];
  if (sentences.length > 0) return sentences;
  return [
    built === null
      ? "No build record of this pack was at hand, so nothing could be compared with how it was built."
      : "These readings hold nothing that the build record could be compared with.",
  ];
}

function ofCapacity(measurements: readonly Measurement[], builtAh: number | null, rated: number): string[] {
  const found = packCapacities(measurements)[0];
  if (found === undefined) return ofPressedDischarge(measurements, builtAh);
  if (builtAh === null || found.value <= 0) return [];
  const cycles = measurements.find(({ name }) => name === "cycle-count")?.value ?? null;
  const { share, expected, early } = stateOfHealth({
    foundAh: found.value,
    foundErrorAh: found.uncertainty,
    builtAh,
    cycles,
    cyclesTo80Percent: rated,
  });
  const line =
    expected === null
      ? "how many cycles it has run is not known"
      : `${inDigits(expected[0] * 100, 0)} to ${inDigits(expected[1] * 100, 0)} % would be expected after ${inDigits(cycles ?? 0, 0)} cycles by its own counter (80 % at ${inDigits(rated, 0)}, some wear twice as fast as others)`;
  return [
    `It gave ${inDigits(found.value, 1)} Ah of the ${inDigits(builtAh, 1)} Ah it was built with (${inDigits(share * 100, 0)} %; ${found.conditions}); ${line}${early ? ": it has aged early" : ""}.`,
  ];
}

/** A discharge that tells nothing of the pack's age stands there with the reason, and without a share to read one from. */
function ofPressedDischarge(measurements: readonly Measurement[], builtAh: number | null): string[] {
  const given = measurements.find(({ name, group }) => name === chargeToCutOff && group === null);
  if (given === undefined || builtAh === null) return [];
  return [
    `From full to its cut-off it gave ${inDigits(given.value, 1)} Ah (${given.conditions}): how far it has aged since it was built with ${inDigits(builtAh, 1)} Ah is not told by that. Repeat it warm and at C/5.`,
  ];
}

function ofSag(foundV: number | null, builtV: number | undefined, currentA: number | undefined): string[] {
  if (foundV === null || !Number.isFinite(foundV) || builtV === undefined || currentA === undefined) return [];
  return [
    `At ${inDigits(currentA, 0)} A its groups alone would sag ${inDigits(foundV, 2)} V by what was found; the whole pack sagged ${inDigits(builtV, 2)} V when it was built, leads and switches included.`,
  ];
}

function ofMatching(measurements: readonly Measurement[], builtMillivolt: number | undefined): string[] {
  const rest = measurements.find(({ name }) => name.startsWith("spread-rest-at-middle"));
  if (rest === undefined || builtMillivolt === undefined) return [];
  return [
    `Its groups were matched within ${inDigits(builtMillivolt, 1)} mV and lie ${inDigits(rest.value, 1)} mV apart at rest near half charge now.`,
  ];
}

function ofPopulation(measurements: readonly Measurement[], population: HealthyPopulation | null): string[] {
  if (population === null) return [];
  if (population.outcome === "too-few") return [population.sentence];
  const sentences: string[] = [];
  const middle = foundMiddle(measurements);
  const like = middle === null ? undefined : population.foundMiddleMilliohm[middle.name];
  if (middle !== null && like !== undefined) {
    sentences.push(
      `Its middle group reads ${inDigits(middle.milliohm, 3)} mOhm; in ${like.packs} returned packs of this revision without a confirmed failure that is ${inDigits(like.median, 3)} ± ${inDigits(like.scaledMad, 3)} mOhm by the same method.`,
    );
  }
  const capacity = packCapacities(measurements)[0];
  const sound = population.foundCapacityAh;
  if (capacity !== undefined && sound !== null) {
    sentences.push(
      `It gave ${inDigits(capacity.value, 1)} Ah; ${sound.packs} returned packs of this revision without a confirmed failure gave ${inDigits(sound.median, 1)} ± ${inDigits(sound.scaledMad, 1)} Ah.`,
    );
  }
  return sentences;
}
