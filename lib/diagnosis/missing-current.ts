import type { Evidence } from "@/lib/diagnosis/evidence";
import { inDigits } from "@/lib/diagnosis/wording";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/** Share of the time under which a missing current is not worth a word. Engineering default. */
const worthSaying = 0.005;

/**
 * What a sum of charge or energy lacks where no current was logged: as a share of the sum (what flowed in that time taken for as much as in
 * the rest), and as words to add to its conditions; empty where next to nothing is missing.
 */
export function lackingCurrent({ currentMissingShare }: RowSurvey): { doubtShare: number; words: string } {
  if (currentMissingShare < worthSaying) return { doubtShare: 0, words: "" };
  return {
    doubtShare: currentMissingShare / Math.max(1 - currentMissingShare, worthSaying),
    words: `; current missing in ${inDigits(currentMissingShare * 100, 0)} % of the time, so it is the least that flowed`,
  };
}

/** The same of the whole file: what keeps it from being judged, or what is worth a remark. Whole sentences. */
export function missingCurrent({ survey, settings }: Evidence): { missing: string[]; remarks: string[] } {
  const share = survey.currentMissingShare;
  if (share < worthSaying) return { missing: [], remarks: [] };
  const said = `Current is missing in ${inDigits(share * 100, 0)} % of the time: what flowed then is in no sum of charge or energy.`;
  return 1 - share < settings.verdict.timeCoverage
    ? { missing: [said], remarks: [] }
    : { missing: [], remarks: [said] };
}

/** Something drew from the pack while it stood, faster than its own electronics would: a whole sentence each. */
export function standingDraws({ survey, settings }: Evidence): string[] {
  return survey.standingDraws.flatMap(({ currentA, days, percentPerDay }) => {
    if (percentPerDay > -settings.verdict.standingDrawPercentPerDay) return [];
    const drew =
      currentA === null
        ? "no current out of it was logged, and yet"
        : `${inDigits(-currentA, 2)} A flowed out of it, and`;
    return [
      `While the pack stood for ${inDigits(days, 1)} days ${drew} all groups fell by ${inDigits(-percentPerDay, 1)} % of charge per day: find what draws before the pack is called sound. A leak of one group cannot be told beside it.`,
    ];
  });
}
