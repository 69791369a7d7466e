import type { Evidence } from "@/lib/diagnosis/evidence";
import { inDigits } from "@/lib/diagnosis/wording";
import type { RowSurvey, StandingDraw } from "@/lib/readings/measure/row-survey";

/** Share of the time under which a missing current is not worth a word. Engineering default. */
const worthSaying = 0.005;

/**
 * What a sum of charge or energy lacks where no current was logged: as a share of the sum (what flowed in that time taken for as much as in
 * the use that was logged; null where none was), and as words to add to its conditions; empty where next to nothing is missing.
 */
export function lackingCurrent({ currentMissingShare, missingOverCounted }: RowSurvey): {
  doubtShare: number | null;
  words: string;
} {
  if (currentMissingShare < worthSaying) return { doubtShare: 0, words: "" };
  return {
    doubtShare: Number.isFinite(missingOverCounted) ? missingOverCounted : null,
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

/** What a current through a rest keeps from being told: what keeps the pack from being judged, or what is worth a remark. Whole sentences. */
export function standingDraws(evidence: Evidence): { missing: string[]; remarks: string[] } {
  const { survey, settings } = evidence;
  const said: { missing: string[]; remarks: string[] } = { missing: [], remarks: [] };
  for (const draw of survey.standingDraws) {
    const { currentA, days, percentPerDay } = draw;
    const drains = percentPerDay < 0;
    const flowed =
      currentA === null
        ? "no current out of it was logged, and yet"
        : `${inDigits(Math.abs(currentA), 2)} A flowed ${drains ? "out of" : "into"} it, and`;
    const moved = `While the pack stood for ${inDigits(days, 1)} days ${flowed} all groups ${drains ? "fell" : "rose"} by ${inDigits(Math.abs(percentPerDay), 1)} % of charge per day`;
    if (percentPerDay <= -settings.verdict.standingDrawPercentPerDay)
      said.missing.push(
        `${moved}: find what draws before the pack is called sound. A leak of one group cannot be told beside it.`,
      );
    else if (costsTheRest(evidence, draw))
      said.missing.push(
        `${moved}. A small leak of one group hides beside that: repeat the rest with nothing connected that draws or charges before the pack is called sound.`,
      );
    else said.remarks.push(`${moved}: no leak was looked for in that rest.`);
  }
  return said;
}

/** Whether a leak would have been looked for in this rest, and no other that is as long shows whether there is one. */
function costsTheRest({ survey, drift, shortDrift }: Evidence, { endRow }: StandingDraw): boolean {
  const { restForDriftS, driftWindowS, restForShortDriftS, shortDriftWindowS } = survey.gates;
  const restedS = survey.restingS[endRow] ?? 0;
  if (drift !== null) return false;
  return (
    restedS >= restForDriftS + driftWindowS ||
    (shortDrift === null && restedS >= restForShortDriftS + shortDriftWindowS)
  );
}
