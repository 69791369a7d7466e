/** Hyphens of every kind, dots, underscores, spaces, and marks that cannot be seen: people group codes with them. */
const GROUPING = /[\p{Pd}\p{Zs}\s\u2212._\u00b7\u00ad\u200b-\u200d\u2060\ufeff]/gu;

/** What separates a code from the address or label text around it. */
const AROUND = /[/=?&#:;,|()[\]\n\r\t]+/u;

/** No code of ours comes near this length; a longer paste is cut so that reading stays quick. */
const LONGEST_PASTE_CHARACTERS = 2000;

/**
 * Typed or scanned text without grouping, in upper case. Full-width forms become plain ones (Unicode NFKC). Only ASCII
 * letters are raised: the general rule would turn a Turkish dotless i into I without telling anyone.
 */
export function withoutGrouping(typed: string): string {
  return typed
    .slice(0, LONGEST_PASTE_CHARACTERS)
    .normalize("NFKC")
    .replace(GROUPING, "")
    .replace(/[a-z]/g, (letter) => letter.toUpperCase());
}

/**
 * The parts of a pasted address or label text in which a code may stand, last first, each without grouping. A plain
 * code gives itself alone; "S/N TR-2417-..." also gives what follows each space.
 */
export function partsOfPaste(typed: string): string[] {
  const plain = typed.slice(0, LONGEST_PASTE_CHARACTERS).normalize("NFKC");
  const parts: string[] = [];
  for (const segment of plain.split(AROUND).reverse()) {
    const words = segment.split(/\s+/u).filter((word) => word !== "");
    for (const first of words.keys()) parts.push(withoutGrouping(words.slice(first).join("")));
  }
  return parts.filter((part) => part !== "");
}
