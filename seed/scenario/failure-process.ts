import type { Fault } from "@/lib/diagnosis/finding";
import type { SeededRandom } from "../simulator/seeded-random";
import { badCellLotCode } from "./lots";

/**
 * The true process behind the returns. Each kind of fault strikes after a Weibull time of its own; the first one sends
 * the pack back. All numbers are invented; they give about 3 returns per 100 packs and year of use.
 */
interface FaultMode {
  readonly fault: Fault;
  /** Expected number per pack in the first year of use. */
  readonly firstYear: number;
  /** Weibull shape: above 1 the fault is one of ageing, below 1 one of birth. */
  readonly shape: number;
}

const daysPerYear = 365;

export const faultModes: readonly FaultMode[] = [
  { fault: "weak-cell", firstYear: 0.0031, shape: 1.4 },
  { fault: "high-resistance-cell", firstYear: 0.0015, shape: 1.4 },
  { fault: "high-resistance-joint", firstYear: 0.0028, shape: 1.05 },
  { fault: "self-discharge", firstYear: 0.0018, shape: 1.2 },
  { fault: "sense-wire", firstYear: 0.0038, shape: 1.05 },
  { fault: "measurement-fault", firstYear: 0.0013, shape: 1 },
  { fault: "power-stage-fault", firstYear: 0.0018, shape: 0.95 },
  { fault: "imbalance", firstYear: 0.0024, shape: 1.1 },
  { fault: "over-discharge", firstYear: 0.0018, shape: 1 },
  { fault: "temperature-sensor", firstYear: 0.0018, shape: 1 },
  { fault: "water-ingress", firstYear: 0.0009, shape: 1.1 },
  { fault: "main-lead", firstYear: 0.0013, shape: 1.1 },
  { fault: "outside-cause", firstYear: 0.002, shape: 1 },
  { fault: "no-fault-found", firstYear: 0.0035, shape: 0.9 },
  { fault: "mechanical-damage", firstYear: 0.001, shape: 1 },
];

/** Multipliers of a revision's hazard, by fault. The young GW-C makes loose sense leads and poor joints. */
const revisionFactors: Readonly<Record<string, Partial<Record<Fault, number>>>> = {
  "BR-A": { "temperature-sensor": 4, "water-ingress": 2 },
  "BR-B": { "water-ingress": 2 },
  "BR-C": { "water-ingress": 0.3 },
  "GW-A": { imbalance: 4, "sense-wire": 1.3 },
  "GW-C": { "sense-wire": 10, "high-resistance-joint": 10 },
  "TF-A": { "main-lead": 6 },
};

const badLotFactors: Partial<Record<Fault, number>> = { "weak-cell": 22, "self-discharge": 28 };

/** What a fault strikes with: everything about a pack that changes its hazard. */
export interface HazardSubject {
  readonly revisionCode: string;
  readonly lotCodes: readonly string[];
}

/** Expected number of events of this kind up to the age, for one pack: the cumulative hazard, no unit. */
export function cumulativeHazard(subject: HazardSubject, mode: FaultMode, ageDays: number): number {
  return factorOf(subject, mode.fault) * mode.firstYear * (ageDays / daysPerYear) ** mode.shape;
}

/** True probability that the pack comes back by the age, for the kinds of fault named (all where none are). */
export function failureProbability(subject: HazardSubject, ageDays: number, kinds?: readonly Fault[]): number {
  const sum = faultModes
    .filter((mode) => kinds === undefined || kinds.includes(mode.fault))
    .reduce((total, mode) => total + cumulativeHazard(subject, mode, ageDays), 0);
  return -Math.expm1(-sum);
}

/** The first fault of a life and the age at which it strikes, in days, at least 1; `stress` multiplies all hazards. */
export function firstFault(
  subject: HazardSubject,
  random: SeededRandom,
  stress = 1,
): { readonly fault: Fault; readonly ageDays: number } {
  let earliest: { fault: Fault; ageDays: number } = { fault: "no-fault-found", ageDays: Number.POSITIVE_INFINITY };
  for (const mode of faultModes) {
    const draw = -Math.log(1 - random.next());
    const rate = factorOf(subject, mode.fault) * mode.firstYear * stress;
    const ageDays = Math.max(1, Math.round(daysPerYear * (draw / rate) ** (1 / mode.shape)));
    if (ageDays < earliest.ageDays) {
      earliest = { fault: mode.fault, ageDays };
    }
  }
  return earliest;
}

function factorOf(subject: HazardSubject, fault: Fault): number {
  const ofRevision = revisionFactors[subject.revisionCode]?.[fault] ?? 1;
  const ofLot = subject.lotCodes.includes(badCellLotCode) ? (badLotFactors[fault] ?? 1) : 1;
  return ofRevision * ofLot;
}
