import { agedEarly } from "@/lib/diagnosis/aged-pack";
import { contradictedCapacities } from "@/lib/diagnosis/capacity-shares";
import { dangersOfGroups } from "@/lib/diagnosis/dangers-of-groups";
import { doubtfulCurrent, zeroOfSensor } from "@/lib/diagnosis/doubtful-current";
import type { Evidence } from "@/lib/diagnosis/evidence";
import { briefHeat, judgeHeat, unreadHeat } from "@/lib/diagnosis/judge-heat";
import { atRest, overCharge, underLoad } from "@/lib/diagnosis/main-questions";
import { missingCurrent, standingDraws } from "@/lib/diagnosis/missing-current";
import { nearImbalance } from "@/lib/diagnosis/near-imbalance";
import { type NotSeen, notSeen, watched } from "@/lib/diagnosis/not-seen";
import { ownCounter } from "@/lib/diagnosis/own-counter";
import { resistanceExcesses } from "@/lib/diagnosis/resistance-excess";
import { mainLead } from "@/lib/diagnosis/rules/main-lead";
import { outsideCause } from "@/lib/diagnosis/rules/outside-cause";
import { selfDischarge } from "@/lib/diagnosis/rules/self-discharge";
import { whyNoCapacity } from "@/lib/diagnosis/rules/weak-cell";
import { settingsForModel } from "@/lib/diagnosis/settings-for-model";
import { byWarmth, unclearEnd, unexplained, unexplainedDangers, warmthFirst } from "@/lib/diagnosis/unexplained-danger";
import { scatteredHeat, watchedSwitches } from "@/lib/diagnosis/watched-switches";
import type { WholePackResistance } from "@/lib/diagnosis/whole-pack-resistance";
import { counted, inDigits, inTime } from "@/lib/diagnosis/wording";
import { leapsAtEnd } from "@/lib/readings/measure/heat-leaps";

/** What the log allowed to judge, what it did not, and what a reader should know besides. Plain sentences. */
export interface Coverage {
  readonly judged: readonly string[];
  /** How many of the three main questions (load, charge, rest) the log does not answer. */
  readonly unanswered: number;
  /** What keeps the cells themselves from being judged, under load or over charge; empty where both were. */
  readonly cellsOpen: readonly string[];
  /** Each entry is a reason why "no fault found" may not be said. */
  readonly missing: readonly string[];
  readonly remarks: readonly string[];
  /** Classes of fault this file could not have shown; their sentences are among the remarks. */
  readonly unseen: readonly NotSeen[];
  /** Why the file cannot be of this pack model at all; null where it can. */
  readonly misfit: string | null;
}

/** Rows below which a file is no log. Engineering default. */
const fewRows = 60;

/**
 * Whether a fault, had there been one, would have shown. What the file cannot show is told class by class; a pack is not
 * called sound at all where the file is no log of this pack, where heat went unwatched, where something in it is not
 * explained, or where it shows the cells neither under load nor over charge: parked days alone say little of them.
 */
export function judgeCoverage(evidence: Evidence): Coverage {
  const { survey, model, settings, summary } = evidence;
  const atEnd = [...leapsOfProbes(evidence), ...unclearEnd(evidence)];
  const missing: string[] = sentences(atEnd);
  if (survey.groups === 0) missing.push("The file holds no group voltages: no group can be judged.");
  const misfit =
    survey.groups > 0 && survey.groups !== model.groups
      ? `The file holds ${survey.groups} groups, the model has ${model.groups}: it is the file of another model, or columns are missing.`
      : null;
  if (misfit !== null) missing.push(misfit);
  if (survey.log.rows < fewRows) missing.push(`The file holds only ${counted(survey.log.rows, "row")}.`);
  if (summary.coverage < settings.verdict.timeCoverage) {
    missing.push(`Only ${inDigits(summary.coverage * 100, 0)} % of the time is covered by readings.`);
  }
  if (!evidence.directionKnown) missing.push(noDirection);
  missing.push(...(summary.contradictions ?? []));
  const ofCells = [underLoad(evidence), overCharge(evidence)];
  const questions = [...ofCells, atRest(evidence)];
  const unanswered = questions.flatMap(({ unseen }) => unseen);
  const leaking = new Set(selfDischarge(evidence).flatMap(({ groups }) => groups));
  const falling = watched(evidence, leaking);
  const early = agedEarly(evidence);
  const heat = judgeHeat(evidence);
  const brief = briefHeat(evidence);
  // Heat that charge, load or place explains is a finding, and asks for no more than its own test.
  const isHeatTold = outsideCause(evidence).length > 0;
  if (isHeatTold) missing.push(...brief.missing);
  const dangers = [
    ...unexplainedDangers(evidence),
    ...dangersOfGroups(evidence),
    ...[...heat.missing, ...(isHeatTold ? [] : brief.missing)].map((because) =>
      unexplained("temperature-sensor", because, byWarmth),
    ),
  ];
  const unseen = [
    ...atEnd,
    ...dangers,
    ...early,
    ...falling,
    ...unanswered,
    ...notSeen(evidence, { leaking, lead: mainLead(evidence).length > 0 }),
  ];
  missing.push(...sentences(dangers), ...sentences(early), ...sentences(falling));
  const answered = questions.flatMap(({ judged }) => (judged === null ? [] : [judged]));
  const cellsOpen = ofCells.flatMap(({ judged, unseen: open }) => (judged === null ? sentences(open) : []));
  if (ofCells.every(({ judged }) => judged === null)) missing.push(...cellsOpen);
  if (survey.log.temperatures.length === 0)
    missing.push(
      survey.log.leftOutTemperatures === undefined
        ? "No temperature was logged: heat cannot be judged."
        : "The temperatures of the file were left out: heat is judged only where it is an emergency.",
    );
  const { notUnderstood } = settingsForModel(model);
  if (notUnderstood.length > 0)
    missing.push(`The pack model names thresholds nobody knows: ${notUnderstood.join(", ")}.`);
  missing.push(...nearImbalance(evidence));
  missing.push(
    ...pressedCapacity(evidence),
    ...contradictedCapacities(evidence).values(),
    ...unprovenResistances(evidence),
  );
  const current = missingCurrent(evidence);
  const draws = standingDraws(evidence);
  missing.push(...current.missing, ...draws.missing);
  const sensor = ofCurrentSensor(evidence);
  missing.push(...sensor.missing);
  const hot = scatteredHeat(evidence);
  missing.push(...hot.missing);
  const probesSeen = !unseen.some(({ fault }) => fault === "temperature-sensor");
  return {
    judged: [...answered, ...(probesSeen ? heat.judged : [])],
    unanswered: questions.length - answered.length,
    cellsOpen,
    missing,
    remarks: [
      ...sentences(unseen),
      ...watchedGroups(evidence),
      ...watchedSwitches(evidence),
      ...hot.remarks,
      ...sensor.remarks,
      ...current.remarks,
      ...draws.remarks,
      ...doubtfulCycles(evidence),
      ...unreadHeat(evidence),
      ...heat.remarks,
      ...brief.remarks,
    ],
    unseen: unseen.map((one) => ({ ...one, keepsFromSound: missing.includes(one.because) })),
    misfit,
  };
}

/** With what the whole pack is like beside packs outside it, which the log alone does not show. */
export function withWholePack(coverage: Coverage, { missing, remarks }: WholePackResistance): Coverage {
  return { ...coverage, missing: [...coverage.missing, ...missing], remarks: [...coverage.remarks, ...remarks] };
}

/** Too short for a sign of danger, and no file of a sound pack: whether it was an emergency the file does not show. */
function leapsOfProbes({ survey, settings, probeFaults, switchProbe, acute }: Evidence): NotSeen[] {
  if (acute.length > 0) return [];
  const faulty = new Set([...probeFaults, ...(switchProbe === null ? [] : [switchProbe])].map(({ probe }) => probe));
  return leapsAtEnd(survey, settings.acute)
    .filter(({ where }) => !faulty.has(where))
    .map(({ where, before, after, overS }) => ({
      fault: "acute-event",
      because: `${where} goes from ${inDigits(before, 0)} to ${inDigits(after, 0)} degC in the last ${inTime(overS)} of the file: heat, or a sensor that jumps, and the file ends before it could show which. ${warmthFirst}`,
      next: warmthFirst,
    }));
}

const noDirection =
  "It is not known which way the current counts: charging and discharging cannot be told apart, so capacity, charger and switches are not judged. Say which way it counts when the file is sent, and it is judged anew.";

/** Several classes may be hidden by one cause: it is said once. */
function sentences(unseen: readonly NotSeen[]): string[] {
  return [...new Set(unseen.map(({ because }) => because))];
}

interface StandsOut {
  readonly group: number;
  readonly milliohm: number;
  readonly medianMilliohm: number;
  readonly z: number;
}

/** Groups whose resistance stands out without being proven high. */
function standingOut(evidence: Evidence): StandsOut[] {
  if (evidence.resistance.outcome === "refused") return [];
  const { milliohm, medianMilliohm, scaledMadMilliohm } = evidence.resistance.resistance;
  const flagged = new Set(resistanceExcesses(evidence).map((excess) => excess.group));
  const scatter = Math.max(scaledMadMilliohm, evidence.settings.verdict.resistanceLeastScatter * medianMilliohm);
  return Array.from(milliohm, (own, index) => ({
    group: index + 1,
    milliohm: own,
    medianMilliohm,
    z: (own - medianMilliohm) / scatter,
  })).filter(({ group, z }) => z >= watchedZ && !flagged.has(group));
}

/** Scatters above the median group from which a group is watched. Engineering default. */
const watchedZ = 3;

function isFarOut({ settings, doubtfulGroups }: Evidence, { group, milliohm, medianMilliohm, z }: StandsOut): boolean {
  const { resistanceZ, resistanceRatio } = settings.verdict;
  return !doubtfulGroups.has(group) && z >= resistanceZ && milliohm >= resistanceRatio * medianMilliohm;
}

function readsHigh({ group, milliohm, medianMilliohm, z }: StandsOut): string {
  return `${group} reads ${inDigits(milliohm, 3)} mOhm, the group in the middle ${inDigits(medianMilliohm, 3)} mOhm: ${inDigits(z, 1)} times as far off as sound groups differ`;
}

function watchedGroups(evidence: Evidence): string[] {
  return standingOut(evidence)
    .filter((one) => !isFarOut(evidence, one))
    .map((one) => `Watch: group ${readsHigh(one)}.`);
}

/** As far out as a fault, yet too unsteady from step to step to be proven one: neither a finding nor sound. */
function unprovenResistances(evidence: Evidence): string[] {
  return standingOut(evidence)
    .filter((one) => isFarOut(evidence, one))
    .map((one) => `Group ${readsHigh(one)}, and too unsteady from step to step to say why.`);
}

/** Little came out of the pack, but under a peak, in the cold or by a sensor that is off: neither worn out nor sound. */
function pressedCapacity(evidence: Evidence): string[] {
  const { fullDischarge, model, settings } = evidence;
  if (fullDischarge === null) return [];
  const share = fullDischarge.capacityAh / model.ratedCapacityAh;
  const why = share < settings.verdict.wornOutCapacity ? whyNoCapacity(evidence, fullDischarge) : null;
  if (why === null) return [];
  return [
    `From full to the first group at its cut-off the pack gave ${inDigits(share * 100, 0)} % of rated capacity, but ${why}: repeat it warm and at C/5.`,
  ];
}

/** A current sensor that is off leaves no capacity to judge by; a log too slow for its load may only seem so. */
function ofCurrentSensor(evidence: Evidence): {
  readonly missing: readonly string[];
  readonly remarks: readonly string[];
} {
  const doubt = doubtfulCurrent(evidence);
  if (doubt === null) return { missing: [], remarks: zeroOfSensor(evidence) };
  const { found, isSensor } = doubt;
  return isSensor
    ? {
        missing: [
          `The current sensor is in question: ${found}, so no capacity rests on it. Hold it against a clamp meter.`,
        ],
        remarks: [],
      }
    : {
        missing: [],
        remarks: [
          `Watch the current: ${found}. The sensor is in question first, unless the log is too slow for the load. Hold it against a clamp meter.`,
        ],
      };
}

/** A counter that counts something else than cycles says nothing of the pack's age. */
function doubtfulCycles(evidence: Evidence): string[] {
  const counted = ownCounter(evidence);
  return counted === null || counted.doubt === null
    ? []
    : [`The pack's own counter says ${Number(counted.cycles.toFixed(2))} cycles, ${counted.doubt}: it is left out.`];
}
