import { canonicalHistoryText, type HistoryEntry, type HistoryForm } from "./history-entry";

export interface StoredHistoryRow extends HistoryEntry {
  readonly form: HistoryForm;
  readonly previousHash: string;
  readonly hash: string;
}

export type HistoryCheck =
  | { readonly kind: "sound"; readonly rows: number; readonly lastHash: string }
  | { readonly kind: "broken"; readonly sequence: number; readonly sentence: string };

export const FIRST_PREVIOUS_HASH = "0".repeat(64);

/**
 * Whether a chain is whole: numbered from 1 without a gap, each row hashing to what it says and naming the row before,
 * each step starting where the last one ended, the version rising by one. `expectedLastHash`, kept outside the chain,
 * shows rows cut off at the end, which a chain alone cannot.
 * `startsAfter` is how many rows there were before any was chained; 0 where all are.
 * `sha256` turns a text (UTF-8) into 64 hexadecimal digits. An empty chain is sound where nothing is expected.
 */
export function verifyHistory(
  rows: readonly StoredHistoryRow[],
  sha256: (text: string) => string,
  expectedLastHash: string | null,
  startsAfter = 0,
): HistoryCheck {
  let before: StoredHistoryRow | null = null;
  for (const row of rows) {
    const wrong = whatIsWrong(row, before, sha256, startsAfter);
    if (wrong !== null) return { kind: "broken", sequence: row.sequence, sentence: wrong };
    before = row;
  }
  const lastHash = before?.hash ?? FIRST_PREVIOUS_HASH;
  if (expectedLastHash !== null && expectedLastHash !== lastHash) {
    const sequence = (before?.sequence ?? startsAfter) + 1;
    return { kind: "broken", sequence, sentence: "Rows are missing at the end, or the last row was put in later." };
  }
  return { kind: "sound", rows: rows.length, lastHash };
}

/**
 * Whether something stands where its chain says: same state, same version, and a mark outside the chain wherever there are
 * rows. A state that was edited past the program has no row, and rows that were deleted leave a version behind. Null where
 * it does, else why not.
 */
export function whyItStandsElsewhere(
  last: Pick<StoredHistoryRow, "to" | "dataVersion"> | null,
  standing: { readonly state: string; readonly version: number; readonly lastHash: string | null },
): string | null {
  if (last === null)
    return standing.version === 0 && standing.lastHash === null ? null : "It has moved, and its rows are gone.";
  if (standing.lastHash === null) return "The mark kept outside the chain is gone.";
  if (last.to !== standing.state) return "It stands elsewhere than its last row says.";
  return last.dataVersion === standing.version ? null : "Its version is not the one its last row says.";
}

function whatIsWrong(
  row: StoredHistoryRow,
  before: StoredHistoryRow | null,
  sha256: (text: string) => string,
  startsAfter: number,
): string | null {
  if (row.sequence !== (before?.sequence ?? startsAfter) + 1) return "A row is missing before this one.";
  if (row.previousHash !== (before?.hash ?? FIRST_PREVIOUS_HASH)) return "It does not follow from the row before.";
  if (sha256(canonicalHistoryText(row.previousHash, row, row.form)) !== row.hash) {
    return "What it says is not what was written.";
  }
  if (before !== null && row.from !== before.to) return "It does not start where the row before ended.";
  if (before !== null && row.dataVersion !== before.dataVersion + 1) return "The version does not rise by one.";
  return null;
}
