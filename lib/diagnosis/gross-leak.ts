import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Finding } from "@/lib/diagnosis/finding";
import { confidence, inDigits, inMillivolt, inTime } from "@/lib/diagnosis/wording";
import { type GrossFall, grossFalls } from "@/lib/readings/measure/gross-falls";

/** Belief in a leak of tens of mV within hours. Engineering default. */
const belief = 0.75;
/** mV of a % of charge, generous, by which a balancer may lower a group, and times its pace that no balancer reaches. Engineering defaults. */
const balancedMillivoltPerPercent = 10;
const beyondBalancer = 3;

/**
 * A leak so strong that hours of rest show it: over 10 mV a day a pack is set apart (diagnostics.md 1.11), and this is a multiple of
 * it. Never a group whose reading is void, nor one whose pack voltage did not fall with it.
 */
export function grossLeaks(evidence: Evidence): Finding[] {
  const { survey, settings, doubtfulGroups } = evidence;
  const worst = new Map<number, GrossFall>();
  for (const fall of grossFalls(survey, settings.leak)) {
    if (doubtfulGroups.has(fall.group) || fall.packFollows === false || isBled(evidence, fall)) continue;
    const known = worst.get(fall.group);
    if (known === undefined || fall.millivoltPerDay > known.millivoltPerDay) worst.set(fall.group, fall);
  }
  return [...worst.values()].map(
    ({ group, fellV, overS, millivoltPerDay, packFollows }): Finding => ({
      fault: "self-discharge",
      groups: [group],
      confidence: confidence(belief),
      safetyClass: "A1",
      evidenceFor: [
        `At rest group ${group} falls by ${inMillivolt(fellV)} against the group in the middle within ${inTime(overS)}, once the load before had faded, and goes on falling: ${inDigits(millivoltPerDay, 0)} mV per day${packFollows === true ? ", and the pack voltage falls with it" : ""}.`,
      ],
      evidenceAgainst: ["Electronics that draw from one group look the same in a log."],
      nextTest: `Outdoors and apart, nothing connected: read group ${group} with a meter, and again after an hour; feel for no warmth by hand, measure it from a distance.`,
    }),
  );
}

/** A balancer lowers a group too, but only down to the others, and no faster than its current. */
function isBled({ survey, model, settings }: Evidence, { group, endRow, millivoltPerDay }: GrossFall): boolean {
  if (survey.log.balancingMask !== null) return false;
  const volt = survey.log.cellVoltagesV[group - 1]?.[endRow] ?? Number.NaN;
  const aboveMillivolt = 1000 * (volt - (survey.referenceV[endRow] ?? Number.NaN));
  const percentPerDay = (100 * 24 * settings.measure.balanceCurrentA) / model.ratedCapacityAh;
  return (
    aboveMillivolt > settings.verdict.balancedAboveMillivolt &&
    millivoltPerDay < beyondBalancer * balancedMillivoltPerPercent * percentPerDay
  );
}
