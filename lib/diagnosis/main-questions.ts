import type { Evidence } from "@/lib/diagnosis/evidence";
import type { NotSeen } from "@/lib/diagnosis/not-seen";
import { falls, sayFall, whyLeakHides } from "@/lib/diagnosis/watched-drift";
import { riseThatShows, shortfallThatShows } from "@/lib/diagnosis/what-would-show";
import { inDigits, inMillivolt, inTime, namedGroups } from "@/lib/diagnosis/wording";
import { poorlyFitted } from "@/lib/readings/measure/group-state-fit";

/** One of the three things a log can show of the cells: how they bear load, how much they hold, and whether they keep it. */
export interface MainQuestion {
  /** What was judged, as a whole sentence; null where the log does not answer. */
  readonly judged: string | null;
  /** Classes it therefore could not have shown. */
  readonly unseen: readonly NotSeen[];
}

/** What the test of an hour asks beyond the least: steps of load, % of charge, minutes of rest, seconds of a step. Engineering defaults. */
const testSteps = 30;
const testBeyondPercent = 10;
const testRestMinutes = 20;
const testPulseS = 10;
/** 1/h. Mean load of the test, so that it takes about an hour. */
const testPerHour = 0.5;

/**
 * What would answer both questions at once, as an order for the bench or a rider: load in steps, over enough charge, and a
 * rest at either end. With its amperes, because "hard load" means something else for every model.
 */
function testOfAnHour({ model, settings }: Pick<Evidence, "model" | "settings">): string {
  const { loadShare, capacityWindowPercent } = settings.verdict;
  const ampere = Math.ceil(
    Math.max(1.2 * loadShare * model.continuousDischargeA, 2 * testPerHour * model.ratedCapacityAh),
  );
  const percent = capacityWindowPercent + testBeyondPercent;
  return (
    `Test of about an hour: from 80 % of charge or more rest ${testRestMinutes} min, then draw about ${ampere} A on and off, ${testPulseS} s each, ` +
    `${testSteps} times and more, on until ${percent} % of charge is out, then rest ${testRestMinutes} min. Log current, all group voltages and temperatures together, every 1 to 2 s.`
  );
}

/** Whether resistance could be judged: asks for load of some size, and for groups and current sampled together. */
export function underLoad(evidence: Evidence): MainQuestion {
  const { survey, model, settings, resistance, largestLoadA } = evidence;
  const loadNeededA = settings.verdict.loadShare * model.continuousDischargeA;
  if (!survey.log.currentA.some(Number.isFinite))
    return resistanceUnseen(evidence, "No current was logged: resistance and capacity cannot be judged.");
  if (largestLoadA < loadNeededA) {
    return resistanceUnseen(
      evidence,
      `Current never exceeded ${shortOf(Math.max(largestLoadA, 0), loadNeededA)} A (${inDigits(loadNeededA, 0)} A are needed): resistance cannot be judged.`,
    );
  }
  if (resistance.outcome === "refused")
    return resistanceUnseen(evidence, `Resistance cannot be judged: ${resistance.reason}.`);
  const { excessErrorMilliohm, medianMilliohm, pairs } = resistance.resistance;
  const worst = Math.max(...excessErrorMilliohm.filter(Number.isFinite)) / medianMilliohm;
  if (worst > settings.verdict.resistanceKnownShare) {
    return resistanceUnseen(
      evidence,
      `Resistance of a group is known only to ${inDigits(worst * 100, 0)} %: a raised one could hide.`,
    );
  }
  const { notJudged, judged, leastShare } = riseThatShows(evidence);
  if (notJudged.length > 0)
    return resistanceUnseen(evidence, `Resistance of ${namedGroups(notJudged)} cannot be judged: ${tooFew}.`);
  return {
    judged: `Resistance of ${ofAll(judged, evidence)} alike, from ${pairs} load steps of up to ${inDigits(largestLoadA, 0)} A${saidLeast(leastShare, "higher")}.`,
    unseen: [],
  };
}

function resistanceUnseen(evidence: Evidence, because: string): MainQuestion {
  const next = testOfAnHour(evidence);
  return {
    judged: null,
    unseen: [
      { fault: "high-resistance-cell", because, next },
      { fault: "high-resistance-joint", because, next },
    ],
  };
}

/** Whether capacity and state of charge could be judged: asks for a sweep of charge, and for a curve to read it from. */
export function overCharge(evidence: Evidence): MainQuestion {
  const { charge, states, settings } = evidence;
  const next = testOfAnHour(evidence);
  const limits = settings.verdict;
  if (charge === null || states === null) {
    const because = `State of charge cannot be followed: ${whyNotFollowed(evidence)}.`;
    return {
      judged: null,
      unseen: [
        { fault: "weak-cell", because, next },
        { fault: "imbalance", because, next },
      ],
    };
  }
  const swept = charge.window[1] - charge.window[0];
  if (swept < limits.capacityWindowPercent) {
    const because = `Only ${shortOf(swept, limits.capacityWindowPercent)} % of charge was gone through (${limits.capacityWindowPercent} % are needed): capacity cannot be judged.`;
    return { judged: null, unseen: [{ fault: "weak-cell", because, next }] };
  }
  const { notJudged, judged, leastShare } = shortfallThatShows(evidence);
  if (notJudged.length > 0) {
    const because = `Capacity of ${namedGroups(notJudged)} cannot be judged: ${tooFew}.`;
    return { judged: null, unseen: [{ fault: "weak-cell", because, next }] };
  }
  const worst = capacitySigmas * Math.max(...states.groups.map((state) => state?.shortfall.sd ?? 0));
  if (worst > 1 / limits.weakCapacityRatio - 1 + limits.capacityKnownBeyond) {
    const because = `Capacity of a group is known only to ${inDigits(worst * 100, 0)} % from this log: a weak one could hide.`;
    return { judged: null, unseen: [{ fault: "weak-cell", because, next }] };
  }
  const said = `Capacity and charge of ${ofAll(judged, evidence)} alike over ${inDigits(swept, 0)} % of charge${saidLeast(leastShare, "smaller")}.`;
  return { judged: said, unseen: [] };
}

function whyNotFollowed({ survey, curve, directionKnown }: Evidence): string {
  if (!survey.log.currentA.some(Number.isFinite)) return "no current was logged";
  if (!directionKnown) return "it is not known which way the current counts";
  if (curve === null) return "no curve of charge over voltage is known for cells of this kind";
  return "too few rows hold a current and the voltages of the groups";
}

const tooFew = "too few of its readings serve";

/** "all 16 groups"; "14 of 16 groups" where the readings of some are void. */
function ofAll(judged: number, { survey }: Evidence): string {
  return judged === survey.groups ? `all ${judged} groups` : `${judged} of ${survey.groups} groups`;
}

function saidLeast(share: number | null, how: "higher" | "smaller"): string {
  return share === null ? "" : `; one ${inDigits(share * 100, 0)} % ${how} would have shown`;
}

/** In whole numbers, and in as many digits as it takes not to read like what was needed. */
function shortOf(value: number, needed: number): string {
  const digits = [0, 1, 2].find((count) => Number(inDigits(value, count)) < Number(inDigits(needed, count)));
  return inDigits(value, digits ?? 3);
}

/** Standard errors within which a capacity is known. */
const capacitySigmas = 2;

/** Whether a slow leak could have shown: asks for days of rest. What it says of the leak is `not-seen.ts`. */
export function atRest(evidence: Evidence): MainQuestion {
  const { drift, settings, survey } = evidence;
  const [fastest] = falls(evidence);
  if (drift === null || fastest === undefined || whyLeakHides(evidence) !== null) return { judged: null, unseen: [] };
  const leftOut = survey.standingDraws.length === 0 ? "" : ", the rests in which a current flowed left out";
  return {
    judged: `No group falls by more than ${settings.verdict.driftMillivoltPerDay} mV per day over ${inTime(drift.days * 86400)} of rest${leftOut}; fastest ${sayFall(fastest)}.`,
    unseen: [],
  };
}

/** Groups that no cause tested describes: whatever ails them is not told, and the pack is not sound. */
export function movingUnlike({ states, charge, doubtfulGroups, settings }: Evidence): string[] {
  if (states === null || charge === null) return [];
  if (charge.window[1] - charge.window[0] < settings.verdict.capacityWindowPercent) return [];
  return [...poorlyFitted(states)].flatMap((group) =>
    doubtfulGroups.has(group)
      ? []
      : [
          `Group ${group} moves unlike the others (${inMillivolt(states.groups[group - 1]?.residualV ?? 0)} are left by every cause tested): what ails it is not told.`,
        ],
  );
}
