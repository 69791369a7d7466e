import type { DriftPicture } from "@/lib/diagnosis/drift-picture";
import type { GroupDot } from "@/lib/diagnosis/group-dot";
import { normal95 } from "@/lib/diagnosis/group-dot";
import { defaultVerdictThresholds } from "@/lib/diagnosis/verdict-thresholds";
import { inTime } from "@/lib/diagnosis/wording";

type Drawn = Extract<DriftPicture, { readonly outcome: "drawn" }>;

/** The slope of every group with its limits; one that falls faster than the limit in use is marked. */
export function driftDots(drift: Drawn): GroupDot[] {
  return drift.groups.flatMap(({ millivoltPerDay, errorMillivoltPerDay }, index) =>
    millivoltPerDay === null
      ? []
      : [
          {
            group: index + 1,
            value: millivoltPerDay,
            limits: normal95(millivoltPerDay, errorMillivoltPerDay),
            beside: null,
            isMarked: millivoltPerDay <= -drift.limitMillivoltPerDay,
          },
        ],
  );
}

/** The same in one sentence. */
export function driftSentence(drift: Drawn): string {
  const dots = driftDots(drift).toSorted((a, b) => a.value - b.value);
  const [worst] = dots;
  if (worst === undefined) return "No group could be followed through the rest.";
  const over = `over ${inTime(drift.restDays * 86_400)} of rest`;
  const limits = worst.limits === null ? "" : ` (${fall(worst.limits[1])} to ${fall(worst.limits[0])})`;
  // Drawings of earlier rules kept the limit of a fault alone.
  const usualMillivoltPerDay = drift.usualMillivoltPerDay ?? defaultVerdictThresholds.driftWatchMillivoltPerDay;
  const verdict = worst.isMarked
    ? `beyond ${drift.limitMillivoltPerDay} mV per day, from which a group is said to lose charge by itself`
    : worst.value < -usualMillivoltPerDay
      ? `more than the ${usualMillivoltPerDay} mV per day that are usual, less than the ${drift.limitMillivoltPerDay} of a fault in a rest of this length: watch it and repeat the rest`
      : `within the ${usualMillivoltPerDay} mV per day that are usual`;
  // What a rest excludes is what the limits exclude, not what the slopes happen to read.
  const open = dots.filter(
    ({ limits: range, isMarked }) => !isMarked && -(range?.[0] ?? 0) >= drift.limitMillivoltPerDay,
  );
  const doubt =
    open.length === 0
      ? ""
      : ` For ${open.length} of ${dots.length} groups the readings do not exclude ${drift.limitMillivoltPerDay} mV per day.`;
  const short = drift.isShort ? " No single rest lasted two days: a slow leak would not show." : "";
  return `Group ${worst.group} falls fastest against the group in the middle, by ${fall(worst.value)} mV per day${limits} ${over}: ${verdict}.${doubt}${short}`;
}

function fall(slope: number): string {
  return `${slope > 0 ? "−" : ""}${Math.abs(slope).toFixed(2)}`;
}
