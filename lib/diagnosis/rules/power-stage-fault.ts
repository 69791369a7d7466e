import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Finding } from "@/lib/diagnosis/finding";
import { confidence, inDigits, inTime } from "@/lib/diagnosis/wording";
import { quantile } from "@/lib/readings/measure/median";

/** F7: switches that conduct while off, or do not while on; or run far too hot. */
export function powerStageFault(evidence: Evidence): Finding[] {
  const found = evidence.switches.map((fault): Finding => {
    const stuckOn = fault.kind === "conducts while off";
    return {
      fault: "power-stage-fault",
      groups: [],
      confidence: confidence(fault.durationS >= 30 || fault.rows >= 10 ? 0.9 : 0.75),
      safetyClass: stuckOn ? "A1" : "B",
      evidenceFor: [
        stuckOn
          ? `The ${fault.which} switch is commanded off, yet up to ${inDigits(fault.worst, 1)} A flow for ${inTime(fault.durationS)} in the direction it should block.`
          : `The discharge switch is commanded on and the groups are alive, yet only ${inDigits(fault.worst, 1)} V stand at the terminals for ${inTime(fault.durationS)}.`,
      ],
      evidenceAgainst: stuckOn
        ? ["A command logged later than it was given would look alike; it would not last."]
        : ["A blown fuse or an open contactor looks the same as an open switch."],
      nextTest: stuckOn
        ? "Leakage of the switches while off, with a current-limited source; gate test. Until then nothing cuts off over-charge or over-discharge."
        : "Continuity of fuse, contactor and pre-charge; then a gate test of the switches.",
    };
  });
  const hottest =
    evidence.survey.log.mosfetTemperatureC === null ? null : quantile(evidence.survey.log.mosfetTemperatureC, 0.999);
  if (found.length === 0 && hottest !== null && hottest >= evidence.settings.verdict.switchFaultC && hottest < 200) {
    found.push({
      fault: "power-stage-fault",
      groups: [],
      confidence: confidence(0.55),
      safetyClass: "B",
      evidenceFor: [`The switches reached ${inDigits(hottest, 0)} degC.`],
      evidenceAgainst: ["Heat alone does not show whether a switch, its joint or the load is at fault."],
      nextTest: "Temperature of the switches at half the rated current against a sound board at the same ambient.",
    });
  }
  return found;
}
