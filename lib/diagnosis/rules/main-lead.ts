import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Finding } from "@/lib/diagnosis/finding";
import { confidence, inDigits } from "@/lib/diagnosis/wording";
import { median } from "@/lib/readings/measure/median";

/** Correlation from which the absolute resistance outside the groups is trusted: skewed sampling inflates it. Engineering default. */
const synchronousEnough = 0.9;

/** F12: resistance between the groups and the terminals, in leads, fuse, connector, shunt or switches. */
export function mainLead(evidence: Evidence): Finding[] {
  const { sum, resistance, settings } = evidence;
  if (sum.outcome !== "measured" || resistance.outcome === "refused") return [];
  const limits = settings.verdict;
  const told = sum.pieces.filter((piece) => Number.isFinite(piece.outsideErrorOhm) && piece.outsideErrorOhm < 0.0007);
  const values = told.map((piece) => piece.outsideOhm * 1000);
  const error = (median(told.map((piece) => piece.outsideErrorOhm)) ?? 0) * 1000;
  const low = median(values.toSorted((a, b) => a - b).slice(0, Math.ceil(values.length / 3))) ?? Number.NaN;
  const high =
    median(values.toSorted((a, b) => b - a).slice(0, Math.max(2, Math.ceil(values.length / 10)))) ?? Number.NaN;
  const changed =
    values.length >= 4 &&
    high - low >= Math.max(limits.leadChangeMilliohm, 8 * error) &&
    high >= limits.leadChangeRatio * Math.max(low, 0.5);
  const outside = sum.outsideOhm * 1000;
  const inside = resistance.resistance.sumMilliohm;
  const standing =
    (evidence.stepCorrelation ?? 0) >= synchronousEnough &&
    outside >= Math.max(limits.leadHighMilliohm, limits.leadHighShare * inside);
  if (!changed && !standing) return [];
  return [
    {
      fault: "main-lead",
      groups: [],
      confidence: confidence(changed ? 0.78 : 0.58),
      safetyClass: "B",
      evidenceFor: [
        `Between the groups and the terminals lie ${inDigits(outside, 1)} mOhm; the groups themselves add up to ${inDigits(inside, 1)} mOhm.`,
        ...(changed
          ? [`Within the log it moves from ${inDigits(low, 1)} to ${inDigits(high, 1)} mOhm: a contact, not a cell.`]
          : []),
      ],
      evidenceAgainst: changed
        ? []
        : ["It is steady; what is normal for this model's leads, fuse and switches is not known to the rule."],
      nextTest: "Move connector and leads under load while logging; infrared picture of connector and fuse; pull test.",
    },
  ];
}
