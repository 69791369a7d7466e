import { type HistoryEntry, readHistoryForm } from "./history-entry";
import { type StoredHistoryRow, verifyHistory, whyItStandsElsewhere } from "./verify-history";

interface StoredLink {
  readonly form: string | null;
  readonly previousHash: string | null;
  readonly hash: string | null;
}

/** A chain of rows beside the histories of returns: entries of an incident, moves of a line of money. */
export interface BesideChain {
  readonly name: string;
  readonly rows: readonly { readonly entry: HistoryEntry; readonly link: StoredLink }[];
  /** The mark kept outside the chain; null where nothing of it is chained. */
  readonly lastHash: string | null;
  /** Where the thing stands by its own row; null where it has none. */
  readonly standing: { readonly state: string; readonly version: number } | null;
  /** What its own row says against its chain, as a sentence; null where nothing does. */
  readonly contradiction: string | null;
}

/** Whether a chain is whole. Rows from before there was a chain may stand at its beginning and nowhere else. */
export function whatIsWrongBeside(
  { rows, lastHash, standing, contradiction }: BesideChain,
  sha256: (text: string) => string,
): { sequence: number; sentence: string } | null {
  const unchained = rows.findIndex(({ link }) => link.hash !== null);
  const startsAfter = unchained === -1 ? rows.length : unchained;
  const chained: StoredHistoryRow[] = [];
  for (const { entry, link } of rows.slice(startsAfter)) {
    if (link.hash === null || link.form === null || link.previousHash === null)
      return { sequence: entry.sequence, sentence: "It is not chained, and rows before it are." };
    const { previousHash, hash } = link;
    chained.push({ ...entry, form: readHistoryForm(link.form), previousHash, hash });
  }
  if (chained.length > 0 && lastHash === null)
    return { sequence: rows.length, sentence: "The mark kept outside the chain is gone." };
  const check = verifyHistory(chained, sha256, lastHash, startsAfter);
  if (check.kind === "broken") return check;
  if (contradiction !== null) return { sequence: rows.length, sentence: contradiction };
  const last = rows.at(-1)?.entry ?? null;
  if (standing === null) return null;
  const elsewhere = whyItStandsElsewhere(last, { ...standing, lastHash: lastHash ?? "unchained" });
  return elsewhere === null ? null : { sequence: rows.length, sentence: elsewhere };
}
