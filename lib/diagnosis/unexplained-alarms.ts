import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Fault, Finding } from "@/lib/diagnosis/finding";
import type { NotSeen } from "@/lib/diagnosis/not-seen";
import { byWarmth, meterAt, unexplained } from "@/lib/diagnosis/unexplained-danger";
import { counted } from "@/lib/diagnosis/wording";
import { type ProtectionFlag, protectionFlagWords } from "@/lib/readings/protection-flags";

const wiring = ["sense-wire", "measurement-fault"] as const;
const weakness = ["weak-cell", "imbalance", "high-resistance-cell", "high-resistance-joint", ...wiring] as const;

/**
 * Faults that explain an alarm of the monitor. Warnings and the ends of the charge counter are not asked for a reason;
 * an alarm without a list is explained by nothing a log shows. Engineering default.
 */
const explains: Readonly<Partial<Record<ProtectionFlag, readonly Fault[]>>> = {
  COMMUNICATION_ERROR: wiring,
  OVER_TEMP_ALARM: ["acute-event", "outside-cause", "temperature-sensor", "high-resistance-joint", "power-stage-fault"],
  UNDER_TEMP_ALARM: ["outside-cause", "temperature-sensor"],
  OVER_CHARGE_CURRENT_ALARM: ["outside-cause"],
  OVER_DISCHARGE_CURRENT_ALARM: ["outside-cause", "power-stage-fault"],
  OVER_VOLT_ALARM: ["outside-cause", ...weakness],
  UNDER_VOLT_ALARM: ["acute-event", "over-discharge", "self-discharge", ...weakness],
  TEMPERATURE_IMBALANCE_ALARM: ["acute-event", "temperature-sensor", "high-resistance-joint"],
  CONTACTOR_ERROR: ["acute-event", "power-stage-fault"],
  FAN_ERROR: [],
  GROUND_FAULT: ["water-ingress"],
  OPEN_DOOR_ERROR: [],
  OTHER_ALARM: [],
  CONFIGURATION_ALARM: [],
};

/** Rows around the moment within which a cut-off is the ordinary end of a charge or ride. Engineering default. */
const rowsAround = 5;

/**
 * Alarms the monitor raised for which neither a finding nor the ordinary end of a charge or of a ride gives the reason: a
 * whole sentence each. A pack whose own monitor cried out is not called sound.
 */
export function unexplainedAlarms(
  evidence: Evidence,
  faults: readonly Pick<Finding, "fault">[],
): { readonly dangers: readonly NotSeen[]; readonly others: readonly string[] } {
  const named = evidence.flags.flatMap(({ flag, raisedAt }) => {
    const reasons = explains[flag];
    if (reasons === undefined || faults.some(({ fault }) => reasons.includes(fault))) return [];
    const without = raisedAt.filter((row) => !isOrdinaryEnd(evidence, flag, row));
    const first = without[0];
    if (first === undefined) return [];
    const because = `The monitor raised its ${protectionFlagWords[flag]} ${counted(without.length, "time")}, first at line ${evidence.lineOfRow(first)}, and nothing found explains it.`;
    return [{ because, lookFirst: lookFirst[flag] ?? null }];
  });
  return {
    dangers: named.flatMap(({ because, lookFirst: look }) =>
      look === null ? [] : [unexplained(look.fault, because, look.next)],
    ),
    others: [
      ...named.flatMap(({ because, lookFirst: look }) => (look === null ? [because] : [])),
      ...raisedOfNoList(evidence),
    ],
  };
}

const heatFirst = {
  fault: "temperature-sensor",
  next: byWarmth,
} as const;

/** Alarms that may mean heat, a live case or a group beyond its limits: what looks at that and puts no current through the pack. */
const lookFirst: Readonly<Partial<Record<ProtectionFlag, { readonly fault: Fault; readonly next: string }>>> = {
  OVER_TEMP_ALARM: heatFirst,
  TEMPERATURE_IMBALANCE_ALARM: heatFirst,
  GROUND_FAULT: {
    fault: "water-ingress",
    next: "A qualified person measures the insulation of both terminals against the case before anybody opens or touches it bare-handed. Nothing is charged or ridden until then.",
  },
  OVER_VOLT_ALARM: { fault: "measurement-fault", next: meterAt("every group") },
  UNDER_VOLT_ALARM: { fault: "measurement-fault", next: meterAt("every group") },
};

function raisedOfNoList({ otherFlags, lineOfRow, survey }: Evidence): string[] {
  if (otherFlags === null) return [];
  const first = otherFlags.raisedAt[0] ?? 0;
  const word = survey.log.otherFlags?.[first] ?? 0;
  return [
    `The monitor raised flags ${counted(otherFlags.raisedAt.length, "time")}, first at line ${lineOfRow(first)} (${word}); what they mean is not known. Look them up in the list of its maker.`,
  ];
}

/** An alarm at which the others stand in the middle of their range is one group's, not the end of the pack's charge or ride. */
function isOrdinaryEnd({ survey, model, settings }: Evidence, flag: ProtectionFlag, row: number): boolean {
  const { alarmAtLimitV: near, othersAtEndOfCharge, othersAtEndOfRide, beyondLimit } = settings.verdict;
  for (let at = Math.max(0, row - rowsAround); at <= row + 1; at += 1) {
    const othersV = survey.referenceV[at] ?? Number.NaN;
    const highestV = survey.highestV[at] ?? Number.NaN;
    const lowestV = survey.lowestV[at] ?? Number.NaN;
    const isFull =
      highestV >= model.cellMaxV - near &&
      highestV <= model.cellMaxV + beyondLimit * near &&
      othersV >= model.cellMaxV - othersAtEndOfCharge * near;
    const isEmpty =
      lowestV <= model.cellMinV + near &&
      lowestV >= model.cellMinV - beyondLimit * near &&
      othersV <= model.cellMinV + othersAtEndOfRide * near;
    if ((flag === "OVER_VOLT_ALARM" && isFull) || (flag === "UNDER_VOLT_ALARM" && isEmpty)) return true;
  }
  return false;
}
