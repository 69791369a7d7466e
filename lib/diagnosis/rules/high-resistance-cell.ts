import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Finding } from "@/lib/diagnosis/finding";
import { heatSpread } from "@/lib/diagnosis/heat-spread";
import { type ResistanceExcess, resistanceExcesses } from "@/lib/diagnosis/resistance-excess";
import { confidence, inDigits, namedGroups } from "@/lib/diagnosis/wording";

/** F2: a cell whose resistance has grown. Its rival is a joint inside the same taps; only a bench reading separates them for certain. */
export function highResistanceCell(evidence: Evidence): Finding[] {
  const heat = whatHeat(evidence);
  return resistanceExcesses(evidence).map((excess) => ({
    fault: "high-resistance-cell" as const,
    groups: [excess.group],
    confidence: confidence(cellConfidence(excess)),
    safetyClass: heat === null ? ("C" as const) : ("B" as const),
    evidenceFor: [
      standsOut(excess),
      ...(excess.slowShare !== null && excess.slowShare >= cellLike
        ? [
            `The slow part of its voltage drop is raised as well (${inDigits(excess.slowShare * 100, 0)} % of what a cell of this make adds), which a weld cannot do.`,
          ]
        : []),
      ...(excess.history !== null && !excess.unsteady
        ? [`It is the same in all ${excess.history.pieces.length} parts of the log.`]
        : []),
      ...(heat === null ? [] : [heat]),
    ],
    evidenceAgainst: [
      ...againstCell(excess),
      "A log reads the cell and the links inside its taps together; it cannot prove that the cell is at fault.",
    ],
    nextTest: `Four-wire milliohm or 1 kHz reading of ${namedGroups([excess.group])}, once across the cell and once across each link beside it.`,
  }));
}

/** A cell that is hot besides is damaged. A probe names no group, so heat anywhere under load counts. */
function whatHeat(evidence: Evidence): string | null {
  const { underLoadK, highestC } = heatSpread(evidence);
  const { verdict, abuse } = evidence.settings;
  if (underLoadK !== null && underLoadK > verdict.gradientLoadK)
    return `Under load its probes lie ${inDigits(underLoadK, 1)} K apart: one place is hot.`;
  if (highestC !== null && highestC > abuse.hotC) return `The pack reached ${inDigits(highestC, 0)} degC.`;
  return null;
}

function cellConfidence(excess: ResistanceExcess): number {
  // How far it stands out tells that something is high, not which of the two it is.
  let belief = 0.66;
  if (excess.slowShare !== null)
    belief += excess.slowShare >= cellLike ? 0.15 : excess.slowShare <= jointLike ? -0.14 : 0;
  if (excess.unsteady) belief -= 0.35;
  if (excess.ratio > severalfold && !(excess.slowShare !== null && excess.slowShare >= cellLike)) belief -= 0.1;
  if (excess.mirroredBy !== null) belief -= 0.35;
  return Math.max(belief, leastBelief);
}

/** Slow share from which an excess behaves like a cell's, and up to which like a joint's. Engineering defaults. */
export const cellLike = 0.5;
export const jointLike = 0.25;
/** Ratio from which a cell would have to be ruined while a joint need only be loose. Engineering default. */
export const severalfold = 2.6;
/** The rival stays on the list: only a bench reading rules it out. */
export const leastBelief = 0.25;

function againstCell(excess: ResistanceExcess): string[] {
  const against: string[] = [];
  if (excess.slowShare !== null && excess.slowShare <= jointLike) {
    against.push(
      `The excess is felt at once and hardly grows with time (slow part ${inDigits(excess.slowShare * 100, 0)} % of a cell's): that is how a joint behaves.`,
    );
  }
  if (excess.unsteady) against.push("It comes and goes during the log; cells age smoothly.");
  if (excess.mirroredBy !== null) {
    against.push(
      `Group ${excess.mirroredBy} beside it reads low by about as much: the tap may sit at the other end of a link.`,
    );
  }
  if (excess.capacityRatio !== null && excess.capacityRatio > 0.97) {
    against.push(
      `What it holds is normal (${inDigits(excess.capacityRatio * 100, 0)} % of what the group in the middle holds).`,
    );
  }
  return against;
}

/** The sentence both resistance findings rest on. */
export function standsOut(excess: ResistanceExcess): string {
  return (
    `Under load group ${excess.group} shows a resistance of ${inDigits(excess.milliohm, 3)} mOhm, the group in the middle ${inDigits(excess.medianMilliohm, 3)} mOhm: ` +
    `${inDigits(excess.ratio, 2)} times as much, from ${excess.pairs} changes of load, and ${inDigits(excess.z, 0)} times as far off as sound groups differ.`
  );
}
