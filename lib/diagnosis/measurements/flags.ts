import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Measurement } from "@/lib/diagnosis/finding";
import { counted, inDigits } from "@/lib/diagnosis/wording";
import { mostInADay } from "@/lib/readings/measure/raised-flags";

/** How often the monitor raised each of its protection flags, as the file carries them. */
export function flagMeasurements({ flags, otherFlags, survey }: Evidence): Measurement[] {
  const { log } = survey;
  const named = flags.map((raised) => ({
    name: `flag-${raised.flag.toLowerCase().replaceAll("_", "-")}`,
    group: null,
    value: raised.raisedAt.length,
    unit: "1",
    uncertainty: null,
    method: "times the monitor raised this flag",
    conditions: `${counted(raised.rows, "row")}, from ${inDigits(log.timeS[raised.raisedAt[0] ?? 0] ?? 0, 0)} to ${inDigits(log.timeS[raised.lastRow] ?? 0, 0)} s, at most ${counted(mostInADay(raised, log), "time")} within a day`,
  }));
  if (otherFlags === null) return named;
  const { raisedAt, rows } = otherFlags;
  const ofNoList = {
    name: "flags-of-unknown-meaning",
    group: null,
    value: raisedAt.length,
    unit: "1",
    uncertainty: null,
    method: "times the monitor raised flags of a list that is not known",
    conditions: `${counted(rows, "row")}, first at ${inDigits(log.timeS[raisedAt[0] ?? 0] ?? 0, 0)} s`,
  };
  return [...named, ofNoList];
}
