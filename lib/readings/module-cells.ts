import { type ColumnMeaning, columnMeaning } from "@/lib/readings/column-meaning";
import { groupNumbers } from "@/lib/readings/group-numbers";
import { headerWords } from "@/lib/readings/header-words";

/** Parts of a pack that stand in series, in the languages of the vocabulary (common practice, no source). Strings may lie beside each other. */
const partWords: ReadonlySet<string> = new Set([
  "module",
  "modul",
  "modulo",
  "block",
  "bloc",
  "bloque",
  "blocco",
  "bloco",
  "blok",
  "segment",
  "section",
]);

/**
 * The columns whose headings name a module and a cell in it, by field, with the number of the group counted through all modules. Empty
 * where the headings leave a gap or do not rise.
 */
export function moduleCells(headers: readonly string[]): ReadonlyMap<number, ColumnMeaning> {
  const cells = headers.flatMap((header, field) => {
    const [part = "", module = "", ...rest] = headerWords(header);
    if (!partWords.has(part) || !/^\d+$/.test(module)) return [];
    const meaning = columnMeaning(rest.join(" "));
    return meaning?.quantity === "cell-voltage" && meaning.number !== null ? [{ field, header, meaning }] : [];
  });
  const numbers = cells.length < 2 ? null : groupNumbers(cells.map(({ header }) => header));
  if (numbers === null) return new Map();
  return new Map(cells.map(({ field, meaning }, at) => [field, { ...meaning, number: numbers[at] ?? null }]));
}
