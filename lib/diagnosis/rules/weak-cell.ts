import { fittedShortfalls, isContradicted, weakByRests, weakRatio } from "@/lib/diagnosis/capacity-shares";
import { doubtfulCurrent } from "@/lib/diagnosis/doubtful-current";
import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Finding } from "@/lib/diagnosis/finding";
import { soundProbes } from "@/lib/diagnosis/heat-spread";
import { oncePerEvidence } from "@/lib/diagnosis/once-per-evidence";
import { unlikePatterns } from "@/lib/diagnosis/unlike-pattern";
import { falls } from "@/lib/diagnosis/watched-drift";
import { confidence, inDigits, inMillivolt, namedGroups } from "@/lib/diagnosis/wording";
import type { DischargeCapacity } from "@/lib/readings/measure/discharge-capacity";
import { poorlyFitted } from "@/lib/readings/measure/group-state-fit";
import { median } from "@/lib/readings/measure/median";
import { possiblePercent } from "@/lib/readings/measure/reference-charge";

/** F1: a group of low capacity. It falls behind towards empty and runs ahead towards full; an offset does neither. */
export function weakCell(evidence: Evidence): Finding[] {
  const found = [...fromPattern(evidence)];
  for (const finding of fromRests(evidence)) {
    if (!found.some((other) => other.groups[0] === finding.groups[0])) found.push(finding);
  }
  for (const finding of fromShape(evidence)) {
    if (!found.some((other) => other.groups[0] === finding.groups[0])) found.push(finding);
  }
  return found.length > 0 ? found : wornOut(evidence);
}

function fromPattern(evidence: Evidence): Finding[] {
  const { states, charge, curve } = evidence;
  if (states === null || charge === null || curve === null) return [];
  const limit = weakRatio(evidence);
  const poor = poorlyFitted(states);
  return fittedShortfalls(evidence).flatMap((one): Finding[] => {
    const { group, ratio, error, excess, z, sweptPercent, rest } = one;
    if (isContradicted(evidence, one, limit)) return [];
    const state = states.groups[group - 1];
    const atLow = (state?.offsetPercent.estimate ?? 0) + excess * (charge.window[0] - states.centrePercent);
    const atHigh = (state?.offsetPercent.estimate ?? 0) + excess * (charge.window[1] - states.centrePercent);
    // A fit that describes the group badly and has it fuller than any cell can be is no capacity, unless two rests say the same.
    const confirmed = rest !== null && rest.ratio + evidence.settings.verdict.weakRestSigmas * rest.error < limit;
    const overfull = charge.window[1] + atHigh > possiblePercent[1];
    if (poor.has(group) && overfull && !confirmed) return [];
    // What stands ahead where the pack is full and level where it is empty does not fall behind: its charge is off, or the curve's end.
    if (atLow > -leastBehindShare * (atHigh - atLow) && !confirmed) return [];
    const belief = 0.72 + 0.5 * Math.min(0.3, limit - ratio) + 0.15 * Math.min(1, (sweptPercent - 30) / 40);
    return [
      {
        fault: "weak-cell",
        groups: [group],
        confidence: confidence(belief),
        safetyClass: classOf(evidence, ratio, group),
        evidenceFor: [
          `Group ${group} holds ${inDigits(ratio * 100, 0)} % of what the group in the middle holds (± ${inDigits(error * 100, 0)} points), seen over ${inDigits(sweptPercent, 0)} % of charge: ${inDigits(z, 0)} times as far off as sound groups differ.`,
          `Where the pack is fullest it stands ${signed(atHigh)} % of charge from the group in the middle, where it is emptiest ${signed(atLow)} %: it falls behind as the pack empties.`,
          ...(rest !== null && rest.ratio <= limit ? [`${twoRestsSay(rest)}.`] : []),
        ],
        evidenceAgainst: [
          ...(rest !== null && rest.ratio > limit ? [`${twoRestsSay(rest)}, which does not bear it out.`] : []),
          ...howManyAh(evidence, ratio, group),
          ...(curve.source === "generic NMC"
            ? ["How the voltage of this model follows its charge is not known; that of a usual cell was taken."]
            : []),
        ],
        nextTest: `Full cycle at C/5 with 2 h rests at both ends, capacity of every group from the two rests; compare ${namedGroups([group])}.`,
      },
    ];
  });
}

/** Share of what a weak group loses against the others that must lie below them where the pack is emptiest. Engineering default. */
const leastBehindShare = 1 / 3;

function twoRestsSay({ ratio, error }: { readonly ratio: number; readonly error: number }): string {
  return `Two rests say ${inDigits(ratio * 100, 0)} % of what the group in the middle holds (± ${inDigits(error * 100, 0)} points)`;
}

/** Two rests: fewer assumptions, but both rests must be in the log, and the fit of the whole log must not know better. */
function fromRests(evidence: Evidence): Finding[] {
  const movedAh = evidence.restCapacity?.movedAh ?? Number.NaN;
  return weakByRests(evidence).flatMap(({ group, value, z, whole }): Finding[] =>
    whole !== null
      ? []
      : [
          {
            fault: "weak-cell",
            groups: [group],
            confidence: confidence(0.75),
            safetyClass: classOf(evidence, value, group),
            evidenceFor: [
              `Between two rests ${inDigits(movedAh, 1)} Ah moved group ${group} as far as one with ${inDigits(value * 100, 0)} % of what the group in the middle holds: ${inDigits(-z, 0)} times as far off as sound groups differ.`,
            ],
            evidenceAgainst: ["Only one pair of rests supports this."],
            nextTest:
              "Full cycle at C/5 (empty in five hours) with 2 h rests at both ends, capacity of every group from the two rests.",
          },
        ],
  );
}

/** Why a full discharge says nothing of the whole pack's capacity: a peak or the cold reaches the cut-off early, or its Ah are in doubt. */
export function whyNoCapacity(evidence: Evidence, { loadAtCutOffA }: DischargeCapacity): string | null {
  const { capacityLoadPerHour, capacityWarmC } = evidence.settings.verdict;
  const mostA = capacityLoadPerHour * evidence.model.ratedCapacityAh;
  if (loadAtCutOffA > mostA)
    return `the first group reached its cut-off under ${inDigits(loadAtCutOffA, 0)} A, and capacity is told at no more than ${inDigits(mostA, 0)} A`;
  const doubt = doubtfulCurrent(evidence);
  if (doubt?.isSensor) return `the current sensor is in question (${doubt.found})`;
  const warmC = warmthOfDischarge(evidence)?.middleC ?? null;
  return warmC !== null && warmC < capacityWarmC
    ? `the pack was at ${inDigits(warmC, 0)} degC, and capacity is told at ${capacityWarmC} degC and more`
    : null;
}

/** degC in the middle of the last full discharge, by the middle one of the sound probes; null where there is none of either. */
const warmthOfDischarge = oncePerEvidence((evidence): { readonly middleC: number } | null => {
  if (evidence.fullDischarge === null) return null;
  const { fromRow, toRow } = evidence.fullDischarge;
  const middles = soundProbes(evidence).flatMap(({ valuesC }) => median(valuesC.slice(fromRow, toRow + 1)) ?? []);
  const middleC = median(middles);
  return middleC === null ? null : { middleC };
});

/** Belief in a class told by its shape alone, no fit behind it: enough to be named, not to act on. Engineering default. */
const byShape = 0.4;

/** No fit holds, but the group falls away only as the pack empties. */
function fromShape(evidence: Evidence): Finding[] {
  return unlikePatterns(evidence)
    .filter(({ likely }) => likely === "weak-cell")
    .map(({ group, lowV, highV }) => ({
      fault: "weak-cell" as const,
      groups: [group],
      confidence: confidence(byShape),
      safetyClass: "U" as const,
      evidenceFor: [
        `Group ${group} lies ${inMillivolt(lowV)} from the group in the middle where the pack is emptiest and ${inMillivolt(highV)} where it is fullest: it falls behind as the pack empties.`,
      ],
      evidenceAgainst: [
        "What it holds could not be told: the voltage hardly changes with charge there, or how it does is not known for this model. A group that is merely less full may look alike.",
      ],
      nextTest: `Full cycle at C/5 with 2 h rests at both ends, capacity of every group from the two rests; compare ${namedGroups([group])}.`,
    }));
}

/** All groups alike but little left: no single cell, yet no sound pack either. */
function wornOut(evidence: Evidence): Finding[] {
  const { fullDischarge, model, settings } = evidence;
  if (fullDischarge === null) return [];
  const share = fullDischarge.capacityAh / model.ratedCapacityAh;
  if (share >= settings.verdict.wornOutCapacity || whyNoCapacity(evidence, fullDischarge) !== null) return [];
  return [
    {
      fault: "weak-cell",
      groups: [],
      confidence: confidence(0.55),
      safetyClass: classOf(evidence, share, null),
      evidenceFor: [
        `From full to the first group at its cut-off the pack gave ${inDigits(fullDischarge.capacityAh, 1)} Ah, ${inDigits(share * 100, 0)} % of rated capacity, at ${inDigits(-fullDischarge.meanCurrentA, 0)} A mean.`,
      ],
      evidenceAgainst: ["No single group stands out: the whole pack has aged, or it was cold."],
      nextTest: "Full discharge at C/5 (empty in five hours) and 25 degC from a full charge.",
    },
  ];
}

/**
 * Damaged where so little is left, of the group or of the pack, or where the group also falls behind while it rests. A share of the
 * median group says nothing of what the median group has left: where no Ah of it are known, neither is the class.
 */
function classOf(evidence: Evidence, share: number, group: number | null): "B" | "U" | "C" {
  const { settings } = evidence;
  const fall = falls(evidence).find((one) => one.group === group);
  const grows =
    fall !== undefined &&
    fall.millivoltPerDay > settings.verdict.driftWatchMillivoltPerDay &&
    fall.millivoltPerDay >= settings.leak.weakFallSigmas * fall.error;
  const ofRated = sharesOfRated(evidence, share, group);
  if (grows || Math.min(share, ...ofRated) < settings.verdict.damagedCapacity) return "B";
  return ofRated.length === 0 ? "U" : "C";
}

/** What a group has left of rated capacity, in every way this log tells it: by full discharge, by two rests, by the charge of the median group. */
function sharesOfRated(evidence: Evidence, share: number, group: number | null): number[] {
  const { fullDischarge, restCapacity, charge, curve, model, settings } = evidence;
  const rated = model.ratedCapacityAh;
  const ofPack = fullDischarge === null ? [] : [fullDischarge.capacityAh / rated];
  if (group === null || curve?.source !== "pack model") return ofPack;
  const atRest = (restCapacity?.capacityAh[group - 1] ?? Number.NaN) / rated;
  const known =
    charge !== null && charge.percentPerAhError <= settings.verdict.packCapacityKnownShare * charge.percentPerAh;
  return [
    ...ofPack,
    ...(Number.isFinite(atRest) ? [atRest] : []),
    ...(known ? [(share * 100) / charge.percentPerAh / rated] : []),
  ];
}

/** Said against a weak group whose class is open. */
function howManyAh(evidence: Evidence, share: number, group: number): string[] {
  if (sharesOfRated(evidence, share, group).length > 0) return [];
  return [
    `How many Ah the pack still holds is not told by this log, so it may be less than ${inDigits(evidence.settings.verdict.damagedCapacity * 100, 0)} % of its rating: it is treated as damaged until that is known.`,
  ];
}

function signed(value: number): string {
  return `${value >= 0 ? "+" : ""}${value.toFixed(1)}`;
}
