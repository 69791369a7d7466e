import type { Evidence } from "@/lib/diagnosis/evidence";
import { compareGroups } from "@/lib/diagnosis/group-comparison";
import { oncePerEvidence } from "@/lib/diagnosis/once-per-evidence";
import { contactJumps } from "@/lib/readings/measure/contact-jumps";
import {
  addsBothWays,
  type ContactBasis,
  type ContactScatter,
  contactBasis,
  contactScatter,
} from "@/lib/readings/measure/contact-scatter";
import {
  followedPolarisation,
  type PolarisationBasis,
  polarisationBasis,
} from "@/lib/readings/measure/followed-polarisation";
import { median } from "@/lib/readings/measure/median";
import { type ResistanceHistory, resistanceHistory } from "@/lib/readings/measure/resistance-pieces";
import { roundingOfStep } from "@/lib/readings/measure/resolution";

/** A group whose resistance stands out, with all that tells a cell from a joint. */
export interface ResistanceExcess {
  readonly group: number;
  readonly milliohm: number;
  readonly medianMilliohm: number;
  readonly excessMilliohm: number;
  readonly ratio: number;
  readonly z: number;
  readonly pairs: number;
  readonly history: ResistanceHistory | null;
  /** Jumps of the excess at steady load. */
  readonly jumps: number;
  /** How faithfully the excess follows the load; whether that is less than any cell's does. */
  readonly scatter: ContactScatter | null;
  readonly contact: boolean;
  /** Whether the excess comes and goes, by its history or by jumps. */
  readonly unsteady: boolean;
  /**
   * Polarisation of the excess over what a cell of the same make would add for its resistance: about 1 for a cell, 0 for a
   * joint (a weld has no diffusion). From the load steps themselves; where these do not tell, from the fit of the whole log. `null` where neither does.
   */
  readonly slowShare: number | null;
  /** A neighbour whose resistance is low by about as much: the tap sits on the wrong end of a link. */
  readonly mirroredBy: number | null;
  readonly capacityRatio: number | null;
}

/** Standard error up to which the share of polarisation at the load steps is believed: cell and joint lie 1 apart. Engineering default. */
const polarisationKnown = 0.3;
/** Agreement of a neighbour's lack with this group's excess. Engineering default. */
const mirrorShare = 0.5;

/**
 * A contact that makes and breaks spreads its own regression: standard error over that of the median group to be one at all, else its scatter is the
 * noise of every group; and to be told where it adds little on average, beside the multiple of its own error that the excess must reach (a contact
 * only adds) and the least ratio to the median group. Engineering defaults.
 */
const contactErrorTimes = 1.5;
const looseErrorTimes = 4;
const looseSigmas = 2.5;
const looseRatio = 1.05;

/**
 * Groups of high resistance, worst first. Empty where resistance could not be judged. Once for each log: two rules and the
 * coverage ask for it, and it walks over every load step of every group.
 */
export const resistanceExcesses = oncePerEvidence<readonly ResistanceExcess[]>(findExcesses);

function findExcesses(evidence: Evidence): ResistanceExcess[] {
  if (evidence.resistance.outcome === "refused") return [];
  const { resistance } = evidence.resistance;
  const limits = evidence.settings.verdict;
  const scatter = limits.resistanceLeastScatter * resistance.medianMilliohm;
  const compared = compareGroups(evidence, resistance.excessMilliohm, resistance.excessErrorMilliohm, scatter);
  const historyOf = (group: number) => resistanceHistory(evidence.survey, resistance.rows, group);
  let usual: number | null = null;
  const usualUnrest = () => {
    usual ??= median(compared.map((one) => historyOf(one.group)?.unrest ?? Number.NaN)) ?? 1;
    return usual;
  };
  const basis = contactBasis(evidence.survey, resistance.rows);
  // Groups read in coarse steps are often exactly alike: their own spread says nothing then, and the rounding does.
  const usualError = Math.max(
    median(compared.map(({ standardError }) => standardError)) ?? Number.NaN,
    roundedMilliohm(evidence, basis),
  );
  let alike: PolarisationBasis | null | undefined;
  const followedBy = (column: Float64Array | undefined) => {
    alike ??= polarisationBasis(evidence.survey, resistance.rows);
    return alike === null || column === undefined ? null : followedPolarisation(alike, column);
  };
  const found = compared.flatMap((one): ResistanceExcess[] => {
    const ratio = 1 + one.excess / resistance.medianMilliohm;
    const clear = ratio >= limits.resistanceClearRatio && one.z >= limits.resistanceClearZ;
    const stands = (ratio >= limits.resistanceRatio && one.z >= limits.resistanceZ) || clear;
    const history = stands || one.z >= 2 ? historyOf(one.group) : null;
    const column = evidence.survey.log.cellVoltagesV[one.group - 1];
    const scattered = basis === null || column === undefined ? null : contactScatter(basis, column, one.excess / 1000);
    const contact =
      scattered !== null &&
      !(one.standardError < contactErrorTimes * usualError) &&
      scattered.share >= Math.max(limits.contactScatterShare, limits.contactScatterRatio * scattered.usualShare);
    const steps = stepsInHistory(history, resistance.medianMilliohm, evidence, usualUnrest);
    // On average little may be added: what tells the contact is that it follows the load as no cell does.
    const loose =
      contact &&
      ratio >= looseRatio &&
      basis !== null &&
      column !== undefined &&
      addsBothWays(basis, column) &&
      one.standardError >= looseErrorTimes * usualError &&
      one.excess >= looseSigmas * one.standardError;
    const proven = (stands || steps) && one.excess >= limits.resistanceSigmas * one.standardError;
    if (!proven && !loose) return [];
    const noiseV = evidence.states?.groups[one.group - 1]?.noiseV ?? 0.005;
    const polarisation = followedBy(column);
    const followed = polarisation !== null && polarisation.error <= polarisationKnown ? polarisation.share : null;
    const { jumps } = contactJumps(evidence.survey, one.group, one.excess / 1000, noiseV);
    const mirror = compared.find(
      (other) =>
        Math.abs(other.group - one.group) === 1 &&
        other.z <= -limits.resistanceClearZ &&
        -other.excess >= mirrorShare * one.excess &&
        -other.excess <= one.excess / mirrorShare,
    );
    return [
      {
        group: one.group,
        milliohm: resistance.medianMilliohm + one.excess,
        medianMilliohm: resistance.medianMilliohm,
        excessMilliohm: one.excess,
        ratio,
        z: one.z,
        pairs: resistance.pairs,
        history,
        jumps,
        scatter: scattered,
        contact,
        unsteady: steps || contact || (scattered === null && jumps >= limits.contactJumps),
        slowShare: followed ?? slowShare(evidence, one.group),
        mirroredBy: mirror?.group ?? null,
        capacityRatio: capacityRatio(evidence, one.group),
      },
    ];
  });
  return found.toSorted((a, b) => b.ratio - a.ratio);
}

/** What rounding of two readings to the step of the groups leaves on a slope over all load steps, mOhm; 0 where there is none. */
function roundedMilliohm({ survey }: Evidence, basis: ContactBasis | null): number {
  const stepV = median(survey.resolutionV);
  if (basis === null || stepV === null) return 0;
  const squares = basis.amps.reduce((sum, amp) => sum + amp * amp, 0);
  return squares > 0 ? (1000 * Math.SQRT2 * roundingOfStep(stepV)) / Math.sqrt(squares) : 0;
}

/**
 * Unsteady beyond noise, beyond what every group of this log shows (residuals are never quite white), and by an amount
 * that matters against a healthy group.
 */
function stepsInHistory(
  history: ResistanceHistory | null,
  medianMilliohm: number,
  evidence: Evidence,
  usualUnrest: () => number,
): boolean {
  if (history === null) return false;
  const limits = evidence.settings.verdict;
  const range = history.highestMilliohm - history.lowestMilliohm;
  return (
    range >= limits.unsteadyShare * history.highestMilliohm &&
    range >= limits.unsteadyOfMedian * medianMilliohm &&
    history.unrest >= limits.unsteadyChiSquare * Math.max(1, usualUnrest())
  );
}

function slowShare(evidence: Evidence, group: number): number | null {
  const { charge, states } = evidence;
  const state = states?.groups[group - 1] ?? null;
  if (charge === null || state === null || charge.fastOhm <= 0 || charge.slowOhm <= 0.1 * charge.fastOhm) return null;
  const expected = state.fastMilliohm.estimate * (charge.slowOhm / charge.fastOhm);
  const error = Math.hypot(state.slowMilliohm.sd, state.fastMilliohm.sd) * 2;
  if (expected <= 0 || error > 0.25 * expected) return null;
  return state.slowMilliohm.estimate / expected;
}

/** Capacity of a group over the median group's; `null` where the log sweeps too little charge. */
function capacityRatio(evidence: Evidence, group: number): number | null {
  const { charge, states } = evidence;
  const state = states?.groups[group - 1] ?? null;
  if (charge === null || state === null) return null;
  if (charge.window[1] - charge.window[0] < evidence.settings.verdict.capacityWindowPercent) return null;
  return 1 / (1 + state.shortfall.estimate);
}
