/** What the decoder had to make out for itself, for a person to confirm once. Fields are positions in the row, from 0. */
export interface ReadingDoubts {
  /** Symbol of the unit each column was read in. */
  readonly unitOfField: Readonly<Record<number, string>>;
  /** Columns whose unit was told from the size of the values alone. */
  readonly unitsBySize: readonly number[];
  /** Which way the current was taken to count where the file does not say; null where it says so, or where none flows. */
  readonly sign: { readonly taken: "charge-positive" | "discharge-positive"; readonly why: string } | null;
  /** True where the dates are local times of a zone nobody named. */
  readonly lacksZone: boolean;
}

export function hasDoubts({ unitsBySize, sign, lacksZone }: ReadingDoubts): boolean {
  return unitsBySize.length > 0 || sign !== null || lacksZone;
}
