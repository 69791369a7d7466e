import type { Evidence } from "@/lib/diagnosis/evidence";
import { movingUnlike } from "@/lib/diagnosis/main-questions";
import type { NotSeen } from "@/lib/diagnosis/not-seen";
import { meterAt, unexplained } from "@/lib/diagnosis/unexplained-danger";
import { inDigits, inTime, lasting, namedGroups, namedGroupsFirst } from "@/lib/diagnosis/wording";
import { isBrief } from "@/lib/readings/measure/abuse-events";

/** What of single groups nothing explains, each with the test that looks at it and asks nothing of it. */
export function dangersOfGroups(evidence: Evidence): NotSeen[] {
  return [
    ...silentGroups(evidence).map((because) => unexplained("measurement-fault", because, meterAt("these groups"))),
    ...loneOverVoltage(evidence).map((because) =>
      unexplained("measurement-fault", because, `Look for swelling first. ${meterAt("these groups")}`),
    ),
    ...movingUnlike(evidence).map((because) =>
      unexplained(
        "self-discharge",
        because,
        "Rest of 7 days, apart, balancing off, logged every ten minutes: whether the group falls while nothing flows. Only where it does not, a cycle at C/5 with its capacity from two rests.",
      ),
    ),
  ];
}

/** Share of the rows in which a group must give a sensible value to be judged at all. Engineering default. */
const sensibleShare = 0.5;

function silentGroups({ survey }: Evidence): string[] {
  const [low, high] = survey.gates.cellPlausibleV;
  const stride = Math.max(1, Math.floor(survey.log.rows / 2000));
  const silent = survey.log.cellVoltagesV.flatMap((column, index) => {
    let sensible = 0;
    let seen = 0;
    for (let row = 0; row < survey.log.rows; row += stride) {
      if (survey.plausibleGroups[row] === 0) continue;
      seen += 1;
      const volt = column[row] ?? Number.NaN;
      if (volt >= low && volt <= high) sensible += 1;
    }
    return seen > 0 && sensible < sensibleShare * seen ? [index + 1] : [];
  });
  return silent.length === 0
    ? []
    : [`In the file ${namedGroups(silent)} gave no sensible voltage through most of the file: that cannot be judged.`];
}

/** One or few groups above the limit without a cause: not the charger's doing, and not sound. */
function loneOverVoltage({ abuse, survey, settings }: Evidence): string[] {
  const critical = abuse.find((one) => one.kind === "critical over-voltage");
  if (
    critical !== undefined &&
    isBrief(critical, survey, settings.abuse) &&
    critical.groups.length <= survey.groups / 2
  ) {
    return [
      `${namedGroupsFirst(critical.groups)} read ${inDigits(critical.worst, 3)} V, ${lasting(critical.totalS)}, and the pack voltage bears it out: too short to say what it was, and too high to pass over.`,
    ];
  }
  const event = abuse.find((one) => one.kind === "over-voltage");
  if (event === undefined || event.totalS < 60 || event.groups.length > survey.groups / 2) return [];
  return [
    `${event.groups.length === 1 ? "Group" : "Groups"} ${event.groups.join(", ")} stood above the charge limit for ${inTime(event.totalS)} (${inDigits(event.worst, 3)} V).`,
  ];
}
