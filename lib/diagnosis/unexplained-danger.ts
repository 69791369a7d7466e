import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Fault } from "@/lib/diagnosis/finding";
import type { NotSeen } from "@/lib/diagnosis/not-seen";
import { counted, inDigits, inTime, namedGroups } from "@/lib/diagnosis/wording";
import { fallenSilent } from "@/lib/readings/measure/fallen-silent";
import { groupsAllAlike } from "@/lib/readings/measure/groups-alike";

/** A danger nothing found explains: it keeps the pack from being called sound, and its own test comes before any that puts current through it. */
export function unexplained(fault: Fault, because: string, next: string): NotSeen {
  return { fault, because, next, beforeCurrent: true };
}

export const warmthFirst =
  "Measure the pack's warmth from a distance before anybody touches it; if it is hot, smokes or smells, keep away and call the fire service.";

/** What looks at heat nobody explains. */
export const byWarmth = `${warmthFirst} Hold every probe against a thermometer on the case at rest; nothing is charged or ridden until then.`;

/** What happens as the file ends, and might be an emergency that it does not show any more. */
export function unclearEnd(evidence: Evidence): NotSeen[] {
  if (evidence.acute.length > 0) return [];
  return [...stillWarm(evidence), ...packFallen(evidence)];
}

function stillWarm({ stillWarming, lineOfRow }: Evidence): NotSeen[] {
  const warmest = stillWarming.toSorted((a, b) => b.after - b.before - (a.after - a.before))[0];
  if (warmest === undefined) return [];
  const { where, row, before, after, overS } = warmest;
  return [
    unexplained(
      "acute-event",
      `From line ${lineOfRow(row)} on ${where} warms from ${inDigits(before, 1)} to ${inDigits(after, 1)} degC within ${inTime(overS)} while no current flows, faster than a room warms a pack, and it still does where the file ends: cells that warm themselves look like this, and so does a place in the sun or beside a heater. ${warmthFirst}`,
      `${warmthFirst} If it is not: leave it outdoors and apart, in the shade, logged for a day, nothing connected: whether it warms by itself.`,
    ),
  ];
}

const packByMeter =
  "From outside, no lid open: read the terminals with a meter and hold them against the sum of the groups of the same moment; then read every group with a meter at the monitor's connector. Nothing is charged or ridden until then.";

function packFallen({ unfollowedFalls, lineOfRow }: Evidence): NotSeen[] {
  return unfollowedFalls
    .filter(({ atEnd }) => atEnd)
    .map(({ fromRow, asGroupsV, readsV }) =>
      unexplained(
        "acute-event",
        `From line ${lineOfRow(fromRow)} to the end of the file the pack reads ${inDigits(readsV, 1)} V at rest where its groups add up to ${inDigits(asGroupsV, 1)} V: without current no lead takes that. Its output was switched off unseen, its reading is wrong, or the groups are old values and cells are failing. ${warmthFirst}`,
        `${warmthFirst} If it is not: ${packByMeter}`,
      ),
    );
}

/** The same where the log goes on, and what nobody watches: no emergency by what follows, and no sound pack. */
export function unexplainedDangers(evidence: Evidence): NotSeen[] {
  return [...packFellAndRose(evidence), ...silentAtEnd(evidence), ...alike(evidence)];
}

function packFellAndRose({ unfollowedFalls, acute, lineOfRow }: Evidence): NotSeen[] {
  const falls = unfollowedFalls.filter(({ atEnd }) => !atEnd);
  const [first] = falls;
  if (first === undefined || acute.length > 0) return [];
  return [
    unexplained(
      "measurement-fault",
      `The pack voltage falls ${counted(falls.length, "time")} at rest and its groups do not follow, first at line ${lineOfRow(first.fromRow)} for ${inTime(first.overS)} (${inDigits(first.readsV, 1)} V where the groups add up to ${inDigits(first.asGroupsV, 1)} V): an output that was switched off, a reading that is wrong, or groups that are old values.`,
      packByMeter,
    ),
  ];
}

function silentAtEnd({ survey, lineOfRow, doubtfulGroups, nearZero }: Evidence): NotSeen[] {
  const told = new Set([...doubtfulGroups, ...nearZero.map(({ group }) => group)]);
  return fallenSilent(survey).flatMap(({ groups, fromRow, overS }) => {
    const untold = groups.filter((group) => !told.has(group));
    if (untold.length === 0) return [];
    const who =
      untold.length === survey.groups
        ? "no group gives a sensible voltage any more"
        : `${namedGroups(untold)} ${untold.length === 1 ? "gives" : "give"} no sensible voltage any more`;
    return [
      unexplained(
        "measurement-fault",
        `From line ${lineOfRow(fromRow)} to the end, ${inTime(overS)}, ${who} while the log goes on: a wire or channel was lost, or the monitor failed, and nobody watches these cells.`,
        meterAt(untold.length === survey.groups ? "every group" : namedGroups(untold)),
      ),
    ];
  });
}

/** As an order: it looks at a group without asking anything of it. */
export function meterAt(what: string): string {
  return `Read ${what} with a meter at the monitor's connector and look at wire and plug there; hold it against the log at the same moment. Nothing is charged or ridden until then.`;
}

function alike({ survey }: Evidence): NotSeen[] {
  if (!groupsAllAlike(survey)) return [];
  return [
    unexplained(
      "measurement-fault",
      `All ${survey.groups} groups read the same in every row to the last digit: one value was copied into all columns, and nobody measured the cells one by one.`,
      "Read every group with a meter at the monitor's connector, and export the log with a reading of each group.",
    ),
  ];
}
