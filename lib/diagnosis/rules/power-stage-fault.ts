import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Finding } from "@/lib/diagnosis/finding";
import { confidence, counted, inDigits, inTime } from "@/lib/diagnosis/wording";
import { switchHeat } from "@/lib/readings/measure/switch-heat";

/** F7: switches that conduct while off, or do not while on; or run far too hot. */
export function powerStageFault(evidence: Evidence): Finding[] {
  const { switchSureS, switchSureRows } = evidence.settings.verdict;
  const found = evidence.switches.map((fault): Finding => {
    const stuckOn = fault.kind === "conducts while off";
    return {
      fault: "power-stage-fault",
      groups: [],
      confidence: confidence(fault.durationS >= switchSureS || fault.rows >= switchSureRows ? 0.9 : 0.75),
      safetyClass: stuckOn ? "A1" : "B",
      evidenceFor: [
        stuckOn
          ? `The switch for ${fault.which === "charge" ? "charging" : "discharging"} is commanded off, yet up to ${inDigits(fault.worst, 1)} A flow for ${inTime(fault.durationS)} in the direction it should block.`
          : `The switch for discharging is commanded on and the groups are alive, yet only ${inDigits(fault.worst, 1)} V stand at the terminals for ${inTime(fault.durationS)}.`,
      ],
      evidenceAgainst: stuckOn
        ? ["A command logged later than it was given would look alike; it would not last."]
        : ["A blown fuse or an open contactor looks the same as an open switch."],
      nextTest: stuckOn
        ? "Leakage of the switches while off, with a current-limited source; gate test. Until then nothing cuts off over-charge or over-discharge."
        : "Continuity of fuse, contactor and pre-charge; then a gate test of the switches.",
    };
  });
  return [...found, ...hot(evidence)];
}

/** By rows and time, also beside another fault of the switches. So hot that silicon may have failed, it often fails shut. */
function hot({ survey, settings, lineOfRow }: Evidence): Finding[] {
  const { switchFaultC, switchHotRows } = settings.verdict;
  const heat = switchHeat(survey, settings.acute, switchFaultC, switchHotRows);
  if (heat === null) return [];
  const mayBeShut = heat.highestC >= settings.acute.switchHotC;
  return [
    {
      fault: "power-stage-fault",
      groups: [],
      confidence: confidence(mayBeShut ? 0.75 : 0.6),
      safetyClass: mayBeShut ? "A1" : "B",
      evidenceFor: [
        heat.isBroken
          ? `From line ${lineOfRow(heat.fromRow)} on the switches stood at ${inDigits(switchFaultC, 0)} degC and more in ${counted(heat.rows, "row")} within ${inTime(heat.overS)}, with short breaks, ${inDigits(heat.highestC, 0)} degC at most.`
          : `From line ${lineOfRow(heat.fromRow)} on the switches stood at ${inDigits(switchFaultC, 0)} degC and more for ${inTime(heat.overS)} (${counted(heat.rows, "row")}), ${inDigits(heat.highestC, 0)} degC at most.`,
        ...(mayBeShut
          ? [
              "Switches that became so hot often fail shut: until they are tested nothing may cut off a charge or a ride.",
            ]
          : []),
      ],
      evidenceAgainst: ["Heat alone does not show whether a switch, its joint or the load is at fault."],
      nextTest: mayBeShut
        ? "Leakage of the switches while off, with a current-limited source; look for burnt board and solder. Until then do not charge or use it."
        : "Temperature of the switches at half the rated current against a sound board at the same ambient.",
    },
  ];
}
