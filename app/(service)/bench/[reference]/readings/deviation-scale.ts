export interface DeviationClass {
  /** Lower end of the size, mV; the last class has no upper end. */
  readonly fromMillivolt: number;
  readonly words: string;
}

/**
 * Classes of size. 10 and 30 mV are the limits used for a deviation at rest (good, watch, investigate); 100 and 300 carry
 * on by the same factor. Engineering defaults, no authority.
 */
export const deviationClasses: readonly DeviationClass[] = [
  { fromMillivolt: 0, words: "up to 10 mV" },
  { fromMillivolt: 10, words: "10 to 30 mV" },
  { fromMillivolt: 30, words: "30 to 100 mV" },
  { fromMillivolt: 100, words: "100 to 300 mV" },
  { fromMillivolt: 300, words: "over 300 mV" },
];

/** Position of a deviation among the classes, by its size. */
export function classOf(millivolt: number): number {
  return deviationClasses.findLastIndex(({ fromMillivolt }) => Math.abs(millivolt) >= fromMillivolt);
}

/** Strength of the fill: sizes stay apart in black and white, signs by the hatching laid over. */
export const fillOpacity: readonly number[] = [0, 0.22, 0.45, 0.7, 1];
