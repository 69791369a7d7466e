import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Finding } from "@/lib/diagnosis/finding";
import { type ResistanceExcess, resistanceExcesses } from "@/lib/diagnosis/resistance-excess";
import { cellLike, jointLike, leastBelief, severalfold, standsOut } from "@/lib/diagnosis/rules/high-resistance-cell";
import { confidence, inDigits, namedGroups } from "@/lib/diagnosis/wording";

/** F3: a weld, tab or busbar that has lost contact. It is ohmic, may come and go, and leaves capacity alone. */
export function highResistanceJoint(evidence: Evidence): Finding[] {
  return resistanceExcesses(evidence).map((excess) => ({
    fault: "high-resistance-joint" as const,
    groups: [excess.group],
    confidence: confidence(jointConfidence(excess)),
    safetyClass: "B" as const,
    evidenceFor: [standsOut(excess), ...forJoint(excess)],
    evidenceAgainst: againstJoint(excess),
    nextTest: `Four-wire milliohm reading across each link of ${namedGroups([excess.group])} and across the cell; then an infrared picture at half the rated current.`,
  }));
}

function jointConfidence(excess: ResistanceExcess): number {
  let belief = 0.5;
  if (excess.slowShare !== null)
    belief += excess.slowShare >= cellLike ? -0.2 : excess.slowShare <= jointLike ? 0.22 : 0;
  if (excess.unsteady) belief += 0.35;
  if (excess.ratio > severalfold) belief += 0.15;
  if (excess.capacityRatio !== null && excess.capacityRatio < 0.93) belief -= 0.15;
  if (excess.mirroredBy !== null) belief -= 0.2;
  return Math.max(belief, leastBelief);
}

function forJoint(excess: ResistanceExcess): string[] {
  const found: string[] = [];
  if (excess.contact)
    found.push("It does not follow the load as every cell does: at a like current it takes now more and now less.");
  if (excess.jumps > 0 && excess.unsteady) {
    found.push(
      `At steady load its voltage jumps ${excess.jumps} times by nearly half of what it loses too much: a contact opens and closes.`,
    );
  } else if (excess.unsteady && !excess.contact && excess.history !== null) {
    found.push(
      `What it has too much goes between ${inDigits(excess.history.lowestMilliohm, 2)} and ${inDigits(excess.history.highestMilliohm, 2)} mOhm within the log, more than the readings scatter by.`,
    );
  }
  if (excess.slowShare !== null && excess.slowShare <= jointLike) {
    found.push(
      "It is felt at once and does not grow while the load lasts, as a bad joint's is; an ageing cell's grows.",
    );
  }
  if (excess.capacityRatio !== null && excess.capacityRatio >= 0.95) {
    found.push(
      `What the group holds is normal (${inDigits(excess.capacityRatio * 100, 0)} % of what the group in the middle holds).`,
    );
  }
  return found;
}

function againstJoint(excess: ResistanceExcess): string[] {
  const against: string[] = [];
  if (!excess.unsteady && excess.history !== null) against.push("It is steady; a failing joint often comes and goes.");
  if (excess.slowShare !== null && excess.slowShare >= cellLike) {
    against.push("It grows while the load lasts, as in an aged cell.");
  }
  if (excess.mirroredBy !== null)
    against.push(
      `Group ${excess.mirroredBy} reads low by about as much: a tap on the other end of a link looks like this.`,
    );
  return against;
}
