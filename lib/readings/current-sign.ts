import { createCorrelation } from "@/lib/readings/correlation";
import { quantileOf } from "@/lib/readings/median";
import type { CurrentSign } from "@/lib/readings/reading-log";

export interface SignEvidence {
  readonly timeS: Float64Array;
  readonly segment: Int32Array;
  /** Current as logged, A. */
  readonly currentA: Float64Array;
  /** Pack voltage, or the mean of the cells, V. */
  readonly voltageV: Float64Array;
  readonly socPercent: Float64Array | null;
  readonly longestStepS: number;
}

export type Direction = "charge-positive" | "discharge-positive";

export interface SignVerdict {
  readonly sign: CurrentSign;
  /** Direction the data tell by themselves; null where they are silent or divided. */
  readonly told: Direction | null;
  /** True where the data strongly deny a direction that was confirmed for an earlier file. */
  readonly isDenied: boolean;
  /** Resistance that the steps of current and voltage show, ohm, over whatever the voltage was taken; null where they show none. */
  readonly stepOhm: number | null;
  readonly sentence: string;
}

type Side = 1 | -1 | 0;

/** All limits: engineering defaults, no authority. */
const fewestSteps = 4;
const fewestStepsAlone = 20;
const leastStepCorrelation = 0.3;
const leastStepCorrelationAlone = 0.5;
/** |r| sqrt(n-2)/sqrt(1-r²), the usual test of a correlation, must pass this: six standard errors. */
const leastStepSignificance = 6;
const fewestSocChanges = 3;
const fewestSocChangesAlone = 5;
const leastSocAgreement = 0.6;
const leastSocAgreementAlone = 0.8;
const leastLevelCorrelation = 0.8;
const sampleLimit = 20_001;

/**
 * Which way the logged current counts, told from the data themselves.
 *
 * Three independent signs: a current that rises towards charging lifts the voltage at once (steps); the state of charge rises
 * while charging (changes of the state of charge against the charge counted since the last one); over a whole file the voltage follows
 * the charge put in (level; heard only where the other two are silent). A sign stated in the file, or confirmed for an
 * earlier one of its header, is overruled only by strong evidence, one a person confirmed for this file by none. "unknown" where
 * nothing moves enough or the evidence is divided: then the statement, or charge-positive, is used.
 */
export function inferCurrentSign(
  evidence: SignEvidence,
  stated: Direction | null,
  confirmed: "this-file" | "earlier-file" | null = null,
): SignVerdict {
  const steps = voltageSteps(evidence);
  const soc = socChanges(evidence);
  const level = steps.says === 0 && soc.says === 0 ? voltageLevel(evidence) : { says: 0 as const, strong: false };
  const votes = [steps, soc, level].filter((vote) => vote.says !== 0);
  const first = votes[0]?.says ?? 0;
  const isDivided = votes.some((vote) => vote.says !== first);
  const told = first === 0 || isDivided ? null : first === 1 ? "charge-positive" : "discharge-positive";
  const isStrong = votes.length >= 2 || votes.some((vote) => vote.strong);
  const weighed = weigh({ told, isDivided, isStrong }, stated, confirmed);
  const isDenied = confirmed === "earlier-file" && stated !== null && told === weighed.sign && told !== stated;
  return { ...weighed, told, isDenied, stepOhm: steps.says === 0 ? null : steps.ohm };
}

interface Told {
  readonly told: Direction | null;
  readonly isDivided: boolean;
  readonly isStrong: boolean;
}

function weigh(
  { told, isDivided, isStrong }: Told,
  stated: Direction | null,
  confirmed: "this-file" | "earlier-file" | null,
): Pick<SignVerdict, "sign" | "sentence"> {
  if (confirmed !== null && stated !== null && !isDivided && (told === null || told === stated))
    return { sign: stated, sentence: `The logged current is ${words[stated]}, as was confirmed.` };
  const statement = confirmed === "earlier-file" ? "was confirmed for an earlier file" : "the file says";
  const disagree = "Voltage and state of charge disagree about which way the current counts";
  // One of the two bears the person out, and which of them is wrong is what the person was asked.
  if (isDivided && confirmed !== null && stated !== null)
    return { sign: stated, sentence: `${disagree}; it was confirmed as ${words[stated]}, and that was followed.` };
  if (isDivided) return undecided(stated, statement, disagree);
  if (told === null) {
    const why = "Neither voltage nor state of charge moves enough to tell which way the current counts";
    return undecided(stated, statement, why);
  }
  if (stated === null || stated === told)
    return { sign: told, sentence: `The logged current is ${words[told]}, as the data show.` };
  if (confirmed === "this-file") {
    return {
      sign: stated,
      sentence: `The current was confirmed as ${words[stated]}, though the data look as if it were ${words[told]}; the confirmation was followed.`,
    };
  }
  if (!isStrong) return undecided(stated, statement, `The data weakly say that the current is ${words[told]}`);
  const contradiction =
    confirmed === null
      ? `The file says that its current is ${words[stated]}, but its own data show ${words[told]}`
      : `The current was confirmed for an earlier file with this header as ${words[stated]}, but the data of this one show ${words[told]}`;
  return { sign: told, sentence: `${contradiction}; the data were followed.` };
}

const words = {
  "charge-positive": "positive when charging",
  "discharge-positive": "positive when discharging",
} as const;

function undecided(stated: Direction | null, statement: string, why: string): Pick<SignVerdict, "sign" | "sentence"> {
  const taken =
    stated === null
      ? `it was taken as ${words["charge-positive"]}, which must be confirmed`
      : `it was taken as ${statement}, ${words[stated]}`;
  return { sign: "unknown", sentence: `${why}; ${taken}.` };
}

interface Vote {
  readonly says: Side;
  readonly strong: boolean;
}

interface StepVote extends Vote {
  /** Volts a step of one ampere moves. */
  readonly ohm: number;
}

const silent: StepVote = { says: 0, strong: false, ohm: 0 };

function voltageSteps({ timeS, segment, currentA, voltageV, longestStepS }: SignEvidence): StepVote {
  const range = quantileOf(currentA, 0.99, sampleLimit) - quantileOf(currentA, 0.01, sampleLimit);
  if (!(range > 0)) return silent;
  const correlation = createCorrelation();
  for (let row = 1; row < currentA.length; row++) {
    const stepA = (currentA[row] ?? Number.NaN) - (currentA[row - 1] ?? Number.NaN);
    if (!(Math.abs(stepA) >= 0.1 * range) || segment[row] !== segment[row - 1]) continue;
    if ((timeS[row] ?? 0) - (timeS[row - 1] ?? 0) > longestStepS) continue;
    correlation.add(stepA, (voltageV[row] ?? Number.NaN) - (voltageV[row - 1] ?? Number.NaN));
  }
  const { pairs, r, slope } = correlation.result();
  if (pairs < fewestSteps || Math.abs(r) < leastStepCorrelation) return silent;
  const significance = (Math.abs(r) * Math.sqrt(pairs - 2)) / Math.sqrt(Math.max(1e-12, 1 - r * r));
  if (significance < leastStepSignificance) return silent;
  const strong = pairs >= fewestStepsAlone && Math.abs(r) >= leastStepCorrelationAlone;
  return { says: r > 0 ? 1 : -1, strong, ohm: Math.abs(slope) };
}

function socChanges({ timeS, segment, currentA, socPercent, longestStepS }: SignEvidence): Vote {
  if (socPercent === null) return silent;
  let chargeAs = 0;
  let changes = 0;
  let agreement = 0;
  let total = 0;
  let lastSoc = socPercent[0] ?? Number.NaN;
  // From the second row on: a read before the first would make every number of the loop an object of its own.
  for (let row = 1; row < socPercent.length; row++) {
    const soc = socPercent[row] ?? Number.NaN;
    const stepS = (timeS[row] ?? 0) - (timeS[row - 1] ?? 0);
    if (segment[row] !== segment[row - 1] || stepS > longestStepS) {
      chargeAs = 0;
      lastSoc = soc;
      continue;
    }
    const partAs = (((currentA[row] ?? Number.NaN) + (currentA[row - 1] ?? Number.NaN)) / 2) * stepS;
    if (Number.isFinite(partAs)) chargeAs += partAs;
    if (!Number.isFinite(soc) || soc === lastSoc) continue;
    if (Number.isFinite(lastSoc) && chargeAs !== 0) {
      changes++;
      total += Math.abs(soc - lastSoc);
      agreement += Math.sign(chargeAs) * (soc - lastSoc);
    }
    chargeAs = 0;
    lastSoc = soc;
  }
  const share = total > 0 ? agreement / total : 0;
  if (changes < fewestSocChanges || Math.abs(share) < leastSocAgreement) return silent;
  return {
    says: share > 0 ? 1 : -1,
    strong: changes >= fewestSocChangesAlone && Math.abs(share) >= leastSocAgreementAlone,
  };
}

function voltageLevel({ timeS, segment, currentA, voltageV, longestStepS }: SignEvidence): Vote {
  const largestA = Math.max(quantileOf(currentA, 0.99, sampleLimit), -quantileOf(currentA, 0.01, sampleLimit));
  const correlation = createCorrelation();
  let chargeAs = 0;
  for (let row = 1; row < currentA.length; row++) {
    const stepS = (timeS[row] ?? 0) - (timeS[row - 1] ?? 0);
    if (segment[row] !== segment[row - 1] || stepS > longestStepS) continue;
    const partAs = (((currentA[row] ?? Number.NaN) + (currentA[row - 1] ?? Number.NaN)) / 2) * stepS;
    if (Number.isFinite(partAs)) chargeAs += partAs;
    // At rest the voltage recovers while no charge moves, which says nothing about the direction.
    if (Math.abs(currentA[row] ?? 0) >= 0.1 * largestA) correlation.add(chargeAs, voltageV[row] ?? Number.NaN);
  }
  const { pairs, r } = correlation.result();
  if (pairs < fewestStepsAlone || Math.abs(r) < leastLevelCorrelation) return silent;
  return { says: r > 0 ? 1 : -1, strong: false };
}
