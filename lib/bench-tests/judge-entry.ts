import type { CalendarDate } from "@/lib/warranty/calendar";
import { type Calibration, calibrationStanding, instrumentUncertainty, newestCalibration } from "./calibration";
import { type InstrumentKind, instrumentKindWords } from "./instrument-kinds";
import type { ResultEntry } from "./result-entry.schema";
import { limitsFor, type TestDefinition, type TestLimits } from "./test-definition.schema";
import { judgeNumber, judgeSeen, type Seen, sayNumber, type Verdict } from "./verdict";

export interface KnownInstrument<One extends Calibration = Calibration> {
  readonly code: string;
  readonly kind: InstrumentKind;
  readonly calibrations: readonly One[];
}

export type JudgedReading<One extends Calibration> =
  | {
      readonly kind: "number";
      readonly value: number;
      readonly unit: string;
      readonly expandedUncertainty: number;
      readonly limits: TestLimits;
      readonly calibration: One;
      readonly verdict: Verdict;
    }
  | { readonly kind: "look"; readonly seen: Seen; readonly verdict: Verdict };

export type EntryAnswer<One extends Calibration> =
  | { readonly kind: "judged"; readonly reading: JudgedReading<One> }
  | { readonly kind: "refused"; readonly field: keyof ResultEntry; readonly sentence: string };

type Given = Pick<
  ResultEntry,
  "purpose" | "value" | "seen" | "instrument" | "expandedUncertainty" | "leaveToDestroy" | "correctsId" | "note"
>;

/**
 * Judges what was typed for a test, or says at which field why not. A number needs an instrument of the right kind that is
 * within its calibration on that day; its uncertainty is the instrument's own unless a larger one is given, because the
 * method may add to it and never takes from it. A destructive test needs somebody's leave, a correction a reason.
 */
export function judgeEntry<One extends Calibration>(
  test: TestDefinition,
  entry: Given,
  instruments: readonly KnownInstrument<One>[],
  day: CalendarDate,
): EntryAnswer<One> {
  if (test.isDestructive && entry.leaveToDestroy === null) {
    return refused(
      "leaveToDestroy",
      "Write who allowed the pack to be destroyed, and when. It is the customer's until it was replaced.",
    );
  }
  if (entry.correctsId !== null && (entry.note ?? "").length < MIN_REASON) {
    return refused("note", "Write what was wrong with the first entry.");
  }
  const limits = limitsFor(test, entry.purpose);
  if (test.reading.kind === "look" || limits === null) {
    if (entry.seen === null) return refused("seen", "Choose what you saw.");
    if (entry.seen !== "as-expected" && entry.note === null) return refused("note", "Write what you saw.");
    return { kind: "judged", reading: { kind: "look", seen: entry.seen, verdict: judgeSeen(entry.seen) } };
  }
  if (entry.value === null) return refused("value", `Write the number in ${test.reading.unit}.`);
  const instrument = instruments.find(({ code }) => code === entry.instrument);
  if (instrument === undefined) return refused("instrument", "Choose the instrument you measured with.");
  if (instrument.kind !== test.reading.instrument) {
    const wanted = instrumentKindWords[test.reading.instrument].toLowerCase();
    return refused("instrument", `${instrument.code} is another kind of instrument. This test asks for: ${wanted}.`);
  }
  const standing = calibrationStanding(instrument.code, instrument.calibrations, day);
  const calibration = newestCalibration(instrument.calibrations, day);
  if (standing.kind !== "usable" || calibration === null) {
    return refused("instrument", standing.kind === "usable" ? "Choose another instrument." : standing.sentence);
  }
  const own = instrumentUncertainty(calibration, entry.value);
  const expandedUncertainty = entry.expandedUncertainty ?? own;
  if (expandedUncertainty < own) {
    return refused(
      "expandedUncertainty",
      `${instrument.code} alone is uncertain by ${sayNumber(own)} ${test.reading.unit} here. Leave it empty, or give a larger one.`,
    );
  }
  const { value } = entry;
  return {
    kind: "judged",
    reading: {
      kind: "number",
      value,
      unit: test.reading.unit,
      expandedUncertainty,
      limits,
      calibration,
      verdict: judgeNumber({ value, expandedUncertainty }, limits),
    },
  };
}

/** Characters; fewer say nothing to a later reader. */
const MIN_REASON = 5;

function refused(
  field: keyof ResultEntry,
  sentence: string,
): { kind: "refused"; field: keyof ResultEntry; sentence: string } {
  return { kind: "refused", field, sentence };
}
