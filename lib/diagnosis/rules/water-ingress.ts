import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Finding } from "@/lib/diagnosis/finding";
import { leaksUnderDraws } from "@/lib/diagnosis/leak-under-draw";
import { confidence, counted, inDigits, namedGroups } from "@/lib/diagnosis/wording";
import { quantile } from "@/lib/readings/measure/median";

/** Engineering default: signs that must come together. */
const signsNeeded = 2;

/** F11, as far as a log can show it: several unrelated electrical oddities at once. One alone is never called water. */
export function waterIngress(evidence: Evidence): Finding[] {
  const wet = [...leakToCase(evidence), ...drainedRun(evidence)];
  const odd = oddities(evidence);
  const resets = evidence.survey.log.segment.at(-1) ?? 0;
  const manyOdd =
    isUnsteadyAtRest(evidence) ||
    (evidence.taps.length + evidence.probeFaults.length >= unrelatedSigns && (resets > 0 || isUnrelated(evidence)));
  if (!(wet.length > 0 && wet.length + odd.length >= signsNeeded) && !manyOdd) return [];
  const drained = drainedGroups(evidence);
  return [
    {
      fault: "water-ingress",
      // Where no run of groups is drained, the wires that are unsteady say where it is wet.
      groups: drained.length > 0 ? drained : groupsOfTaps(evidence),
      confidence: confidence(0.5 + 0.18 * (wet.length - 1) + 0.16 * odd.length),
      safetyClass: "A1",
      evidenceFor: [...wet, ...odd],
      evidenceAgainst: ["A log cannot see water; each sign has a dry explanation of its own."],
      nextTest:
        "Insulation resistance, then open the lid: moisture indicator, corrosion at the lowest point. Do not dry and return.",
    },
  ];
}

function groupsOfTaps({ taps }: Evidence): number[] {
  return [...new Set(taps.flatMap(({ groups }) => groups))].toSorted((a, b) => a - b);
}

/** Taps and probes at fault together from which no dry cause is likely. Engineering default. */
const unrelatedSigns = 3;

/** Two taps side by side and two probes in different ways: no one plug, board or probe explains them. */
function isUnrelated({ taps, probeFaults }: Evidence): boolean {
  const ways = new Set(probeFaults.map(({ kind }) => kind));
  return taps.length >= 2 && ways.size >= 2;
}

/** Two taps side by side that jump while the pack stands, and a probe that jumps or insulation that falls as well: nothing shakes it, and moisture creeps. */
function isUnsteadyAtRest(evidence: Evidence): boolean {
  const { taps, probeFaults, settings } = evidence;
  const { wetRestRows, wetRestShare } = settings.tap;
  const restless = taps.filter(
    ({ kind, restRows, rows }) => kind === "tap" && restRows >= wetRestRows && restRows >= wetRestShare * rows,
  );
  const besideEachOther = restless.some((one) =>
    restless.some((other) => other !== one && other.groups.some((group) => one.groups.includes(group))),
  );
  return (
    besideEachOther && (probeFaults.some(({ kind }) => kind === "jumping") || fallenInsulation(evidence).length > 0)
  );
}

/** Rows a ground fault must be flagged in to count. Engineering default. */
const groundFaultRows = 3;

/** A low insulation and the monitor's own ground fault are one sign seen twice. */
function leakToCase(evidence: Evidence): string[] {
  const flag = evidence.flags.find((one) => one.flag === "GROUND_FAULT");
  const flagged = flag !== undefined && flag.rows >= groundFaultRows;
  const told = flagged ? [`The monitor flags a ground fault ${counted(flag.raisedAt.length, "time")}.`] : [];
  const measured = insulation(evidence);
  return measured.length + told.length === 0 ? [] : [[...measured, ...told].join(" ")];
}

function insulation(evidence: Evidence): string[] {
  const column = evidence.survey.log.insulationKiloohm;
  const low = column === null ? null : quantile(column, 0.02);
  const high = column === null ? null : quantile(column, 0.9);
  if (low === null || high === null || low > evidence.settings.verdict.insulationKiloohm) return [];
  return [
    high <= evidence.settings.verdict.insulationKiloohm
      ? `Insulation stands at ${inDigits(low, 0)} kOhm throughout.`
      : `Insulation falls to ${inDigits(low, 0)} kOhm (usually ${inDigits(high, 0)} kOhm).`,
  ];
}

/** Share of its usual value to which an insulation must fall to be a sign beside others. Engineering default: dry ones wander with the weather. */
const fallenShare = 0.5;

/** Insulation that stays above the limit and falls to a part of what it was: no danger by itself, and a sign beside others. */
function fallenInsulation({ survey, settings }: Evidence): string[] {
  const column = survey.log.insulationKiloohm;
  const low = column === null ? null : quantile(column, 0.02);
  const usual = column === null ? null : quantile(column, 0.9);
  if (low === null || usual === null || low <= settings.verdict.insulationKiloohm || low > fallenShare * usual)
    return [];
  return [`Insulation falls from ${inDigits(usual, 0)} to ${inDigits(low, 0)} kOhm, which is no low value yet.`];
}

/**
 * A low insulation that is no finding, as a whole sentence. One sign alone is not called water, and a pack whose case may be
 * live is not called sound either: a hand is at risk.
 */
export function insulationAlone(evidence: Evidence, faults: readonly Pick<Finding, "fault">[]): string[] {
  if (faults.some(({ fault }) => fault === "water-ingress")) return [];
  return insulation(evidence).map(
    (low) =>
      `${low} From ${inDigits(evidence.settings.verdict.insulationKiloohm, 0)} kOhm down the case may be live: do not open or touch it bare-handed before a qualified person has measured the insulation.`,
  );
}

/** The longest run of three or more neighbours that all lose charge at rest; what a current through a rest takes from their size left out. */
function drainedGroups(evidence: Evidence): number[] {
  const { drift: long, shortDrift, settings } = evidence;
  const falling = new Set(leaksUnderDraws(evidence).map(({ group }) => group));
  for (const [index, rate] of ((long ?? shortDrift)?.millivoltPerDay ?? []).entries())
    if (rate <= -settings.verdict.wetDrainMillivoltPerDay) falling.add(index + 1);
  let run: number[] = [];
  let best: number[] = [];
  for (let group = 1; group <= evidence.survey.groups; group += 1) {
    run = falling.has(group) ? [...run, group] : [];
    if (run.length > best.length) best = run;
  }
  return best.length >= 3 ? best : [];
}

function drainedRun(evidence: Evidence): string[] {
  const groups = drainedGroups(evidence);
  return groups.length === 0 ? [] : [`Neighbouring ${namedGroups(groups)} all lose charge at rest.`];
}

/** Unsteady taps, faulty probes, a clock that starts anew. */
function oddities(evidence: Evidence): string[] {
  const found: string[] = [];
  if (evidence.taps.length >= 1) found.push(`${counted(evidence.taps.length, "sense wire")} unsteady.`);
  if (evidence.probeFaults.length >= 1)
    found.push(`${counted(evidence.probeFaults.length, "temperature probe")} at fault.`);
  const resets = evidence.survey.log.segment.at(-1) ?? 0;
  if (resets > 0) found.push(`The clock started anew ${counted(resets, "time")}.`);
  found.push(...fallenInsulation(evidence));
  return found;
}
