import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Finding } from "@/lib/diagnosis/finding";
import { confidence, counted, inDigits, inMillivolt, namedGroups, namedGroupsFirst } from "@/lib/diagnosis/wording";
import type { TapError } from "@/lib/readings/measure/tap-errors";

/** F5: a tap that does not hold its potential. What one group gains its neighbour loses, and the pack voltage does not care. */
export function senseWire(evidence: Evidence): Finding[] {
  return [...unsteadyTaps(evidence), ...displacedTaps(evidence), ...lostWires(evidence)];
}

/** Belief in a tap told by the curve alone. Engineering default. */
const displacedTap = 0.7;

/** Off by the same volts at every charge, one group up and its neighbour down. */
function displacedTaps({ standing, sum }: Evidence): Finding[] {
  return standing
    .filter(({ kind }) => kind === "tap")
    .map(({ groups, shiftV }) => ({
      fault: "sense-wire" as const,
      groups: [...groups],
      confidence: confidence(displacedTap),
      safetyClass: "B" as const,
      evidenceFor: [
        `${namedGroupsFirst(groups)} read ${inMillivolt(Math.abs(shiftV))} apart in opposite directions at every charge the log goes through; two groups that are charged otherwise would come closer and part again as the pack empties.`,
      ],
      evidenceAgainst:
        sum.outcome === "measured"
          ? []
          : ["No voltage of the whole pack was logged to confirm that nothing else changed."],
      nextTest: liveTest(groups),
    }));
}

function liveTest(groups: readonly number[]): string {
  return `Log live while moving the harness; read ${namedGroups(groups)} with a meter at the monitor's connector. Until then do not charge: over- and under-voltage protection of these groups does not work.`;
}

/** A group near zero volts whose volts nothing shows to be gone may be a lost wire. */
function lostWires({ nearZero, taps }: Evidence): Finding[] {
  return nearZero
    .filter(({ group, packVoltage }) => packVoltage !== "agrees" && !taps.some((tap) => tap.groups.includes(group)))
    .map(({ group, packVoltage, rows }) => ({
      fault: "sense-wire" as const,
      groups: [group],
      confidence: confidence(packVoltage === "denies" ? lostWire : untoldWire),
      safetyClass: "B" as const,
      evidenceFor: [
        `Group ${group} reads near zero volts in ${counted(rows, "row")}${packVoltage === "denies" ? ", and its volts are not gone: the pack voltage or a neighbour still holds them." : "."}`,
      ],
      evidenceAgainst: [
        packVoltage === "denies"
          ? "A dead input of the monitoring board reads the same."
          : "A dead or shorted group reads the same, and nothing logged tells them apart.",
      ],
      nextTest: `Read group ${group} with a meter at the cells and at the monitor's connector. Until then do not charge.`,
    }));
}

/** Beliefs in a lost wire where the volts are still there, and where nothing tells. Engineering defaults. */
const lostWire = 0.8;
const untoldWire = 0.35;

function unsteadyTaps(evidence: Evidence): Finding[] {
  return evidence.taps.map((tap) => ({
    fault: "sense-wire" as const,
    groups: [...tap.groups],
    confidence: confidence(tapConfidence(evidence, tap)),
    safetyClass: "B" as const,
    evidenceFor: [
      signature(tap),
      `It is seen in ${counted(tap.rows, "row")} of ${tap.rowsJudged} of the file, up to ${inMillivolt(tap.worstV)}; the groups beside them stay still.`,
      ...(evidence.sum.outcome === "measured" && tap.kind !== "end tap"
        ? [
            `All groups together agree with the voltage of the pack within ${inMillivolt(Math.max(0.001, evidence.sum.noiseV))}: no cell lost or gained charge.`,
          ]
        : []),
    ],
    evidenceAgainst: [
      ...(evidence.sum.outcome === "measured"
        ? []
        : ["No voltage of the whole pack was logged to confirm that nothing else changed."]),
      ...(tap.kind === "end tap" ? ["A fault at the first or last input of the monitoring board looks the same."] : []),
      ...(tap.rows < 10 ? ["It was seen only a few times."] : []),
    ],
    nextTest: liveTest(tap.groups),
  }));
}

function tapConfidence(evidence: Evidence, tap: TapError): number {
  const seen = Math.min(1, Math.log10(tap.rows / 3 + 1));
  return 0.75 + 0.2 * seen - (evidence.sum.outcome === "measured" ? 0 : 0.1) - (tap.kind === "end tap" ? 0.1 : 0);
}

function signature(tap: TapError): string {
  if (tap.kind === "end tap")
    return `${namedGroupsFirst(tap.groups)} alone moves, and all groups together part from the voltage of the pack by as much: the wire at the end of the stack does not hold.`;
  if (tap.kind === "two taps")
    return `${namedGroupsFirst(tap.groups)} move against each other while together they stay right: two sense wires side by side do not hold.`;
  return `${namedGroupsFirst(tap.groups)} move by ${inDigits(tap.worstV * 1000, 0)} mV in opposite directions${tap.kind === "constant" ? " all the time" : ""}: the sense wire between them does not hold.`;
}
