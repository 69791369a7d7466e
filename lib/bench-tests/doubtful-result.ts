import type { CalendarDate } from "@/lib/warranty/calendar";
import { sayDate } from "@/lib/warranty/say-date";

/**
 * How an instrument was found before anybody adjusted it. "off" and "cannot-tell" both put in doubt what was measured with
 * it since it was last known to be right; null is an entry from before the question was asked, which says nothing.
 */
export const asFoundStates = ["within", "off", "cannot-tell"] as const;
export type AsFound = (typeof asFoundStates)[number];

export const asFoundWords: Readonly<Record<AsFound, string>> = {
  within: "Within its limits",
  off: "Off",
  "cannot-tell": "Nobody can tell",
};

interface CheckedInstrument {
  readonly code: string;
  /** Oldest first; of two of one day the one recorded later stands later. */
  readonly calibrations: readonly {
    readonly id: string;
    readonly calibratedOn: CalendarDate;
    readonly asFound: AsFound | null;
  }[];
}

export interface Doubt {
  readonly instrumentCode: string;
  readonly foundOn: CalendarDate;
  readonly sentence: string;
}

/**
 * Why a result that rests on a calibration is in doubt; null where it is not. What came next after that calibration tells:
 * found within its limits, the instrument was right all the time; found off, or so that nobody can tell, nobody knows since
 * when. Its verdict stays as it was given and is not judged anew: nobody knows by how much the number was wrong. (That
 * earlier results are looked at when equipment is found unfit follows ISO 9001, 7.1.5.2; from memory: verify there.)
 */
export function whyInDoubt({ code, calibrations }: CheckedInstrument, calibrationId: string): Doubt | null {
  const restsOn = calibrations.findIndex(({ id }) => id === calibrationId);
  if (restsOn < 0) throw new RangeError(`${code}: no calibration ${calibrationId}`);
  const next = calibrations.slice(restsOn + 1).find(({ asFound }) => asFound !== null);
  if (next === undefined || next.asFound === "within") return null;
  const how = next.asFound === "off" ? "was found to be off" : "could not be checked any more";
  return {
    instrumentCode: code,
    foundOn: next.calibratedOn,
    sentence: `In doubt: ${code} ${how} on ${sayDate(next.calibratedOn)}. Measure it again with a sound instrument; the verdict of that day stays as it was given.`,
  };
}
