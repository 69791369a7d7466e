import type { SeededRandom } from "./seeded-random";

export type OptionalColumn = "stage" | "soc" | "cycles" | "switches" | "balancing" | "flags";

/** How one exporting program writes its file. The plain style is what the maker's own reading cable gives. */
export interface CsvStyle {
  readonly delimiter: "," | ";" | "\t";
  readonly decimalComma: boolean;
  readonly cellUnit: "V" | "mV";
  /** "unix" writes `Unix Time / s`, "test" seconds since the first row as `Test Time / s`. */
  readonly clock: "unix" | "test";
  /** "discharge-positive" turns the sign round, under a header that makes no promise about it. */
  readonly currentSign: "charge-positive" | "discharge-positive";
  /** Lines before the header that name the pack. */
  readonly preamble: boolean;
  readonly omit: readonly OptionalColumn[];
  /** One row in the middle whose clock reads 0, as some loggers write it. */
  readonly clockResetRow: boolean;
  /** The last line is cut off in the middle, as when the cable was pulled. */
  readonly truncatedRow: boolean;
}

export const plainStyle: CsvStyle = {
  delimiter: ",",
  decimalComma: false,
  cellUnit: "V",
  clock: "unix",
  currentSign: "charge-positive",
  preamble: true,
  omit: [],
  clockResetRow: false,
  truncatedRow: false,
};

/** The spread of styles that dealers send: about half are plain, the rest differ in one or two ways. */
export function someStyle(random: SeededRandom): CsvStyle {
  if (random.chance(0.5)) {
    return plainStyle;
  }
  const continental = random.chance(0.4);
  return {
    delimiter: continental ? ";" : random.pick([",", ",", "\t"]),
    decimalComma: continental,
    cellUnit: random.chance(0.3) ? "mV" : "V",
    clock: random.chance(0.35) ? "test" : "unix",
    currentSign: random.chance(0.25) ? "discharge-positive" : "charge-positive",
    preamble: random.chance(0.7),
    omit: random.chance(0.3)
      ? random.pick<readonly OptionalColumn[]>([["stage"], ["cycles", "balancing"], ["flags"]])
      : [],
    clockResetRow: random.chance(0.2),
    truncatedRow: random.chance(0.2),
  };
}
