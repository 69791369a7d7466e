import type { ColumnMeaning } from "@/lib/readings/column-meaning";

/** A column that is read. */
export interface ChosenColumn {
  readonly field: number;
  readonly header: string;
  readonly meaning: ColumnMeaning;
}

/** How the text of a field becomes a number. */
export type FieldReading = "number" | "switch" | "bits" | "date-time" | "clock" | "duration" | "serial";

export interface PlannedColumn {
  /** Position in the row, from 0. */
  readonly field: number;
  readonly header: string;
  readonly meaning: ColumnMeaning;
  readonly reading: FieldReading;
  /** Name used in the reason for a rejected row. */
  readonly spokenName: string;
}
