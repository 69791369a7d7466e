import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Finding } from "@/lib/diagnosis/finding";
import { confidence, inDigits, namedGroups } from "@/lib/diagnosis/wording";
import { quantile } from "@/lib/readings/measure/median";

/** Engineering defaults: drain of each group of a run, mV per day; resets; signs that must come together. */
const drainMillivoltPerDay = 2;
const manyResets = 3;
const signsNeeded = 2;

/** F11, as far as a log can show it: several unrelated electrical oddities at once. One alone is never called water. */
export function waterIngress(evidence: Evidence): Finding[] {
  const signs = [...insulation(evidence), ...drainedRun(evidence), ...oddities(evidence)];
  if (signs.length < signsNeeded) return [];
  return [
    {
      fault: "water-ingress",
      groups: drainedGroups(evidence),
      confidence: confidence(0.45 + 0.13 * (signs.length - signsNeeded) + (insulation(evidence).length > 0 ? 0.15 : 0)),
      safetyClass: "A1",
      evidenceFor: signs,
      evidenceAgainst: ["A log cannot see water; each sign has a dry explanation of its own."],
      nextTest:
        "Insulation resistance, then open the lid: moisture indicator, corrosion at the lowest point. Do not dry and return.",
    },
  ];
}

function insulation(evidence: Evidence): string[] {
  const column = evidence.survey.log.insulationKiloohm;
  const low = column === null ? null : quantile(column, 0.02);
  const high = column === null ? null : quantile(column, 0.9);
  if (low === null || high === null || low > evidence.settings.verdict.insulationKiloohm) return [];
  return [`Insulation falls to ${inDigits(low, 0)} kOhm (usually ${inDigits(high, 0)} kOhm).`];
}

/** The longest run of three or more neighbours that all lose charge at rest. */
function drainedGroups(evidence: Evidence): number[] {
  const drift = evidence.drift ?? evidence.shortDrift;
  if (drift === null) return [];
  let run: number[] = [];
  let best: number[] = [];
  for (const [index, rate] of drift.millivoltPerDay.entries()) {
    run = rate <= -drainMillivoltPerDay ? [...run, index + 1] : [];
    if (run.length > best.length) best = run;
  }
  return best.length >= 3 ? best : [];
}

function drainedRun(evidence: Evidence): string[] {
  const groups = drainedGroups(evidence);
  return groups.length === 0 ? [] : [`Neighbouring ${namedGroups(groups)} all lose charge at rest.`];
}

function oddities(evidence: Evidence): string[] {
  const found: string[] = [];
  if (evidence.taps.length >= 2) found.push(`${evidence.taps.length} taps are unsteady.`);
  if (evidence.probeFaults.length >= 2) found.push(`${evidence.probeFaults.length} temperature probes are at fault.`);
  const segments = (evidence.survey.log.segment.at(-1) ?? 0) + 1;
  if (segments > manyResets) found.push(`The clock started anew ${segments - 1} times.`);
  return found;
}
