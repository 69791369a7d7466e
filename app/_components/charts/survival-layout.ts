import { scaleLinear } from "d3-scale";
import type { GroupReport } from "@/lib/reliability/group-report";
import { daysAtMonths, MILESTONE_MONTHS } from "@/lib/reliability/months-in-service";

/** Sizes in units of the drawing, which are CSS pixels at the width the form is made for. */
export interface ChartForm {
  readonly name: "compact" | "roomy";
  readonly width: number;
  readonly plotHeight: number;
  readonly fontSize: number;
  readonly left: number;
  readonly right: number;
}

/** One for a phone 360 px wide, one for a desk: letters of a single drawing would be tiny on one or huge on the other. */
export const compactForm: ChartForm = {
  name: "compact",
  width: 340,
  plotHeight: 200,
  fontSize: 12,
  // Room for the name of a group before the first number at risk, which stands under the axis.
  left: 80,
  right: 44,
};
export const roomyForm: ChartForm = { name: "roomy", width: 760, plotHeight: 320, fontSize: 13, left: 84, right: 72 };

/** Before the name of a group in the row of numbers at risk: the piece of its line. */
export const NAME_FROM = 23;
/** Of the widest common bold face (DejaVu Sans), in letters' heights: capitals and digits together. Measured on pictures. */
const LETTER_WIDTH = 0.72;
/** Half of the first number, which is centred under the axis' beginning, and air before it; in letters' heights. */
const HALF_A_NUMBER = 1.7;
/** Beyond this share of the picture a name is squeezed instead. Engineering default, no authority. */
const MOST_FOR_NAMES = 0.36;

/** The same form with room for the longest name before the first number at risk. */
export function withRoomForNames(form: ChartForm, names: readonly string[]): ChartForm {
  const longest = Math.max(0, ...names.map((name) => name.length));
  const wanted = NAME_FROM + (LETTER_WIDTH * longest + HALF_A_NUMBER) * form.fontSize;
  return { ...form, left: Math.max(form.left, Math.min(wanted, MOST_FOR_NAMES * form.width)) };
}

/** What a name may take up at most before it is squeezed; null where it fits. */
export function squeezedTo(form: ChartForm, name: string): number | null {
  const room = form.left - NAME_FROM - HALF_A_NUMBER * form.fontSize;
  return LETTER_WIDTH * name.length * form.fontSize > room + 0.5 ? room : null;
}

/** The picture ends here; what lies beyond is in the table. Engineering default, no authority. */
const LAST_MONTH = 36;

/** Months marked on the axis; the steps between them are even enough for the eye and few enough for a phone. */
const MARKED_MONTHS = [0, ...MILESTONE_MONTHS, 9, 18, 30, LAST_MONTH].sort((a, b) => a - b);
const LONGEST_COMPACT_MARKS = 6;

export interface SurvivalLayout {
  readonly months: readonly number[];
  readonly x: (ageDays: number) => number;
  readonly y: (probability: number) => number;
  readonly yTicks: readonly number[];
  readonly lastDays: number;
}

/**
 * Scales for the given reports: as long as the oldest curve up to the next mark, as high as the highest limit of a
 * highlighted curve that is not grey (grey limits may run out of the frame: they are cut off, not squeezed in).
 */
export function survivalLayout(
  reports: readonly GroupReport[],
  highlighted: readonly string[],
  form: ChartForm,
): SurvivalLayout {
  const oldestDays = Math.max(0, ...reports.map((report) => report.curve.lastAge));
  const lastMonth = MARKED_MONTHS.find((months) => months >= 6 && daysAtMonths(months) >= oldestDays) ?? LAST_MONTH;
  const marked = MARKED_MONTHS.filter((months) => months <= lastMonth);
  const months =
    form.name === "compact" && marked.length > LONGEST_COMPACT_MARKS ? marked.filter((m) => m % 6 === 0) : marked;
  const lastDays = daysAtMonths(lastMonth);
  const heights = reports.flatMap((report) =>
    report.points
      .filter((point) => !point.grey && point.ageDays <= lastDays)
      .map((point) => (highlighted.includes(report.group) ? point.upper : point.probability)),
  );
  const y = scaleLinear([0, Math.max(0.01, ...heights)], [form.plotHeight, 0]).nice(5);
  const x = scaleLinear([0, lastDays], [form.left, form.width - form.right]);
  return { months, x: (ageDays) => x(ageDays), y: (probability) => y(probability), yTicks: y.ticks(5), lastDays };
}
