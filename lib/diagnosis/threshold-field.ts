/** What a threshold is, for whoever answers for changing it. */
export interface ThresholdField {
  /** In the words of the trade, what is compared. */
  readonly label: string;
  /** Of value and range; "share", "ratio", "times" and "count" carry none. */
  readonly unit: string;
  /** What may be proposed. Wider needs a change of the program and its measurement: a rule of this house. */
  readonly lowest: number;
  readonly highest: number;
  /** Where the usual value comes from. */
  readonly source: string;
}

/** Of a usual value that rests on nothing but judgement. */
export const noSource = "Engineering default, no source.";

/** One field in one line, so that the tables of fields read as tables. */
export function field(
  label: string,
  unit: string,
  [lowest, highest]: readonly [number, number],
  source = noSource,
): ThresholdField {
  return { label, unit, lowest, highest, source };
}

/** Fields of one part of the settings, each of its names once. */
export type FieldsOf<Part> = Readonly<Record<keyof Part & string, ThresholdField>>;
