import type { Evidence } from "@/lib/diagnosis/evidence";
import { type NotSeen, notSeen } from "@/lib/diagnosis/not-seen";
import { resistanceExcesses } from "@/lib/diagnosis/resistance-excess";
import { settingsForModel } from "@/lib/diagnosis/settings-for-model";
import { counted, inDigits, inMillivolt, inTime, namedGroups } from "@/lib/diagnosis/wording";
import { poorlyFitted } from "@/lib/readings/measure/group-state-fit";
import { median } from "@/lib/readings/measure/median";

/** What the log allowed to judge, what it did not, and what a reader should know besides. Plain sentences. */
export interface Coverage {
  readonly judged: readonly string[];
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

/** Whether a fault, had there been one, would have shown. */
export function judgeCoverage(evidence: Evidence): Coverage {
  const judged: string[] = [];
  const missing: string[] = [];
  const remarks: string[] = [];
  const { survey, model, settings, summary, resistance, charge, states } = evidence;
  const limits = settings.verdict;
  if (survey.groups === 0) missing.push("The file holds no group voltages: no group can be judged.");
  const misfit =
    survey.groups > 0 && survey.groups !== model.groups
      ? `The file holds ${survey.groups} groups, the model has ${model.groups}: it is the file of another model, or columns are missing.`
      : null;
  if (misfit !== null) missing.push(misfit);
  if (survey.log.rows < fewRows) missing.push(`The file holds only ${counted(survey.log.rows, "row")}.`);
  if (summary.coverage < limits.timeCoverage) {
    missing.push(`Only ${inDigits(summary.coverage * 100, 0)} % of the time is covered by readings.`);
  }
  const loadNeededA = limits.loadShare * model.continuousDischargeA;
  if (!survey.log.currentA.some(Number.isFinite)) {
    missing.push("No current was logged: resistance and capacity cannot be judged.");
  } else if (evidence.largestLoadA < loadNeededA) {
    missing.push(
      `Current never exceeded ${inDigits(Math.max(evidence.largestLoadA, 0), 0)} A (${inDigits(loadNeededA, 0)} A are needed): resistance cannot be judged.`,
    );
  } else if (resistance.outcome === "refused") {
    missing.push(`Resistance cannot be judged: ${resistance.reason}.`);
  } else {
    const worst =
      Math.max(...resistance.resistance.excessErrorMilliohm.filter(Number.isFinite)) /
      resistance.resistance.medianMilliohm;
    if (worst > 0.06)
      missing.push(`Resistance of a group is known only to ${inDigits(worst * 100, 0)} %: a raised one could hide.`);
    else
      judged.push(
        `Resistance of all groups within limits, from ${resistance.resistance.pairs} load steps of up to ${inDigits(evidence.largestLoadA, 0)} A.`,
      );
  }
  if (charge === null || states === null) {
    missing.push("State of charge cannot be followed: no open-circuit curve serves, or current is missing.");
  } else {
    const swept = charge.window[1] - charge.window[0];
    if (swept < limits.capacityWindowPercent) {
      missing.push(
        `Only ${inDigits(swept, 0)} % of charge was swept (${limits.capacityWindowPercent} % are needed): capacity cannot be judged.`,
      );
    } else {
      const worst = capacitySigmas * Math.max(...states.groups.map((state) => state?.shortfall.sd ?? 0));
      if (worst > 1 / limits.weakCapacityRatio - 1 + capacityDoubt) {
        missing.push(
          `Capacity of a group is known only to ${inDigits(worst * 100, 0)} % from this log: a weak one could hide.`,
        );
      } else judged.push(`Capacity and charge of all groups alike over ${inDigits(swept, 0)} % of charge.`);
      for (const group of poorlyFitted(states)) {
        if (evidence.doubtfulGroups.has(group)) continue;
        missing.push(
          `Group ${group} moves unlike the others (${inMillivolt(states.groups[group - 1]?.residualV ?? 0)} left by every cause tested): something is not told.`,
        );
      }
    }
  }
  const unseen = notSeen(evidence);
  remarks.push(...unseen.map(({ because }) => because));
  if (survey.log.temperatures.length === 0) missing.push("No temperature was logged: heat cannot be judged.");
  else if (!unseen.some(({ fault }) => fault === "temperature-sensor"))
    judged.push("Temperature probes move together.");
  if (evidence.drift !== null) judged.push(`No group drifts over ${inTime(evidence.drift.days * 86400)} of rest.`);
  if (evidence.sum.outcome !== "measured") {
    missing.push("No pack voltage was logged: cells cannot be told from their wiring.");
  }
  const { notUnderstood } = settingsForModel(model);
  if (notUnderstood.length > 0)
    missing.push(`The pack model names thresholds nobody knows: ${notUnderstood.join(", ")}.`);
  missing.push(...silentGroups(evidence), ...loneOverVoltage(evidence));
  missing.push(...unexplained(evidence), ...smallCapacities(evidence));
  for (const watched of watchedGroups(evidence)) remarks.push(watched);
  return { judged, missing, remarks, unseen, misfit };
}

/** Multiple of its error within which a capacity is known, and how much wider than the limit that may be. Engineering defaults. */
const capacitySigmas = 2;
const capacityDoubt = 0.02;

/** Groups that stand out without being at fault. */
function watchedGroups(evidence: Evidence): string[] {
  if (evidence.resistance.outcome === "refused") return [];
  const { resistance } = evidence.resistance;
  const flagged = new Set(resistanceExcesses(evidence).map((excess) => excess.group));
  const scatter = Math.max(
    resistance.scaledMadMilliohm,
    evidence.settings.verdict.resistanceLeastScatter * resistance.medianMilliohm,
  );
  return Array.from(resistance.milliohm).flatMap((milliohm, index) => {
    const z = (milliohm - resistance.medianMilliohm) / scatter;
    if (!(z >= 3) || flagged.has(index + 1)) return [];
    return [
      `Watch group ${index + 1}: ${inDigits(milliohm, 3)} mOhm against a median of ${inDigits(resistance.medianMilliohm, 3)} mOhm (z ${inDigits(z, 1)}).`,
    ];
  });
}

/** Share of the rows in which a group must give a sensible value to be judged at all. Engineering default. */
const sensibleShare = 0.5;

function silentGroups({ survey }: Evidence): string[] {
  const [low, high] = survey.gates.cellPlausibleV;
  const stride = Math.max(1, Math.floor(survey.log.rows / 2000));
  const silent = survey.log.cellVoltagesV.flatMap((column, index) => {
    let sensible = 0;
    let seen = 0;
    for (let row = 0; row < survey.log.rows; row += stride) {
      if (survey.plausibleGroups[row] === 0) continue;
      seen += 1;
      const volt = column[row] ?? Number.NaN;
      if (volt >= low && volt <= high) sensible += 1;
    }
    return seen > 0 && sensible < sensibleShare * seen ? [index + 1] : [];
  });
  return silent.length === 0
    ? []
    : [`In the file ${namedGroups(silent)} gave no sensible voltage through most of the file: that cannot be judged.`];
}

/** One or few groups above the limit without a cause: not the charger's doing, and not sound. */
function loneOverVoltage({ abuse, survey }: Evidence): string[] {
  const event = abuse.find((one) => one.kind === "over-voltage");
  if (event === undefined || event.totalS < 60 || event.groups.length > survey.groups / 2) return [];
  return [
    `${event.groups.length === 1 ? "Group" : "Groups"} ${event.groups.join(", ")} stood above the charge limit for ${inTime(event.totalS)} (${inDigits(event.worst, 3)} V).`,
  ];
}

/** A group that seems small without being proven so: neither a finding nor sound. */
function smallCapacities(evidence: Evidence): string[] {
  const { states, charge, settings } = evidence;
  if (states === null || charge === null) return [];
  const swept = charge.window[1] - charge.window[0];
  if (swept < settings.verdict.capacityWindowPercent) return [];
  const middle = median(states.groups.map((state) => state?.shortfall.estimate ?? Number.NaN)) ?? 0;
  return states.groups.flatMap((state, index) => {
    const ratio = 1 / (1 + (state?.shortfall.estimate ?? middle) - middle);
    if (ratio > settings.verdict.smallCapacityRatio || evidence.doubtfulGroups.has(index + 1)) return [];
    return [
      `Group ${index + 1} seems to hold ${inDigits(ratio * 100, 0)} % of the median group's capacity, but ${inDigits(swept, 0)} % of charge swept does not prove it.`,
    ];
  });
}

/** Groups whose charge stands apart at rest without a finding that explains it: whatever it is, the pack is not sound. */
function unexplained(evidence: Evidence): string[] {
  const { restOffsets, settings } = evidence;
  if (restOffsets === null) return [];
  const middle = median(restOffsets.map((offset) => offset?.percent ?? Number.NaN)) ?? 0;
  return restOffsets.flatMap((offset, index) => {
    const apart = (offset?.percent ?? middle) - middle;
    if (Math.abs(apart) < settings.verdict.unexplainedPercent || evidence.doubtfulGroups.has(index + 1)) return [];
    return [
      `Group ${index + 1} stands ${inDigits(Math.abs(apart), 1)} % of charge ${apart < 0 ? "below" : "above"} the median group at rest, and no cause that was tested explains it.`,
    ];
  });
}
