import type { Direction } from "@/lib/readings/current-sign";
import type { DeniedUnit } from "@/lib/readings/denied-units";
import type { OpenOrder } from "@/lib/readings/plan-time";

/** What the decoder had to make out for itself, for a person to confirm once. Fields are positions in the row, from 0. */
export interface ReadingDoubts {
  /** Symbol of the unit each column was read in. */
  readonly unitOfField: Readonly<Record<number, string>>;
  /** Columns whose unit was told from the size of the values alone. */
  readonly unitsBySize: readonly number[];
  /**
   * Which way the current counts, where neither the file nor a person says it or the data deny what was said for an earlier file:
   * `told` by the data, null where they tell nothing. Null where it is said, or where none flows.
   */
  readonly sign: { readonly told: Direction | null; readonly why: string } | null;
  /** Columns of raised flags of which neither the heading nor a person says which list their bits follow. */
  readonly flagsOfNoList: readonly number[];
  /** Columns that are left out, or read as they are named, though their headings leave it open what of the pack they are. */
  readonly openHeadings: Readonly<Record<number, string>>;
  /** The column of dates that do not tell day and month apart, where nobody has said it. */
  readonly openDayOrder: OpenOrder | null;
  /** Units confirmed for an earlier file, or stated over temperatures, which the values of this one deny, by field. */
  readonly deniedUnits: Readonly<Record<number, DeniedUnit>>;
  /** True where the dates are local times of a zone nobody named. */
  readonly lacksZone: boolean;
}

export function hasDoubts(doubts: ReadingDoubts): boolean {
  const { unitsBySize, sign, flagsOfNoList, openHeadings } = doubts;
  const isLeftOpen = unitsBySize.length > 0 || sign !== null || flagsOfNoList.length > 0;
  return isLeftOpen || Object.keys(openHeadings).length > 0 || deniesRemembered(doubts);
}

/**
 * Whether a file says of itself what the answers for an earlier one left open or said otherwise, or has local times where the
 * earlier one had none to ask a zone for. A direction that was left open and that this file does not tell either is not asked about
 * again.
 */
export function deniesRemembered({ sign, deniedUnits, openDayOrder, lacksZone }: ReadingDoubts): boolean {
  const isSignTold = sign !== null && sign.told !== null;
  return isSignTold || Object.keys(deniedUnits).length > 0 || openDayOrder !== null || lacksZone;
}
