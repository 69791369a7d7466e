import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Finding } from "@/lib/diagnosis/finding";
import { confidence, inDigits, inMillivolt, inTime, namedGroups } from "@/lib/diagnosis/wording";
import type { AcuteSign } from "@/lib/readings/measure/acute-sign";

/** F16: an emergency in the raw rows. Nothing else in the log weighs against it. */
export function acuteEvent(evidence: Evidence): Finding[] {
  const first = evidence.acute[0];
  if (first === undefined) return [];
  const kinds = new Set(evidence.acute.map((sign) => sign.kind));
  const confirmed = evidence.acute.some((sign) => sign.confirmed);
  return [
    {
      fault: "acute-event",
      groups: [...new Set(evidence.acute.flatMap((sign) => sign.groups))].toSorted((a, b) => a - b),
      confidence: confidence((confirmed ? 0.9 : 0.72) + 0.04 * (kinds.size - 1)),
      safetyClass: "A0",
      evidenceFor: evidence.acute.slice(0, 6).map((sign) => sentence(sign, evidence)),
      evidenceAgainst: confirmed
        ? []
        : [
            "The second witness is missing: too few rows follow, no pack voltage was logged, or one probe alone shows it.",
          ],
      nextTest: "None. Keep away, outdoors if it can be done safely, call the fire service.",
    },
  ];
}

function sentence(sign: AcuteSign, evidence: Evidence): string {
  const at = `line ${evidence.lineOfRow(sign.row)}`;
  const over = inTime(sign.overS);
  switch (sign.kind) {
    case "pack-collapse":
      return `At ${at} the pack voltage falls from ${inDigits(sign.before, 1)} to ${inDigits(sign.after, 1)} V within ${over}, by more than any load of the file explains, and ${namedGroups(sign.groups)} ${sign.groups.length === 1 ? "gives" : "give"} no sensible value. Wiring does not move the pack voltage.`;
    case "group-collapse":
      return `At ${at} ${namedGroups(sign.groups)} falls by ${inMillivolt(sign.before - sign.after)} against the other groups within ${over} at rest${sign.confirmed ? ", and the pack voltage falls with it" : ""}.`;
    case "fallen-beside-heat":
      return `At ${at} ${namedGroups(sign.groups)} stands ${inMillivolt(sign.before - sign.after)} lower against the other groups than ${over} before, when the log last told, and it is hot.`;
    case "silent-beside-heat":
      return `From ${at} on ${namedGroups(sign.groups)} ${sign.groups.length === 1 ? "gives" : "give"} no sensible voltage any more, to the end of the file, and it is hot.`;
    case "held-groups":
      return `From ${at} on the pack voltage falls from ${inDigits(sign.before, 1)} to ${inDigits(sign.after, 1)} V within ${over} while no current flows, and no group voltage changes by a digit meanwhile, which they did before: old values, that hide what the cells do.`;
    case "rest-heating":
      return `At ${at} ${sign.where} rises from ${inDigits(sign.before, 1)} to ${inDigits(sign.after, 1)} degC within ${over} while no current flows.`;
    case "self-heating":
      return `From ${at} on ${sign.where} warms from ${inDigits(sign.before, 1)} to ${inDigits(sign.after, 1)} degC within ${over} while no current flows, and still does where the file ends: no place a pack stands in warms it like this.`;
    case "load-heating":
      return `At ${at} ${sign.where} rises from ${inDigits(sign.before, 1)} to ${inDigits(sign.after, 1)} degC within ${over}, faster than the pack's own losses can warm it.`;
    case "held-heat":
      return `At ${at} ${sign.where} has stood at ${inDigits(Math.min(sign.before, sign.after), 0)} degC and more for ${over}.`;
    case "hot":
      return `At ${at} ${sign.where} reaches ${inDigits(sign.after, 0)} degC.`;
  }
}
