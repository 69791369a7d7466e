/** A cell of a table that shows a number, as its reader finds it. */
export interface NumberCell {
  readonly caption: string;
  readonly head: string;
  readonly text: string;
  /** Whether something in the cell leads to what is behind the number; nought needs no way. */
  readonly isOpened: boolean;
}

/** Every cell with a digit in it of all tables of a page as served, the column that names the row left out. */
export function numbersInTables(page: string): NumberCell[] {
  return [...page.matchAll(/<table[^>]*>(.*?)<\/table>/gs)].flatMap(([, table = ""]) => {
    const caption = plain(/<caption[^>]*>(.*?)<\/caption>/s.exec(table)?.[1] ?? "");
    const [head = "", body = ""] = table.split("</thead>");
    const heads = [...head.matchAll(/<th [^>]*>(.*?)<\/th>/gs)].map(([, inner = ""]) => plain(inner));
    return [...body.matchAll(/<tr[^>]*>(.*?)<\/tr>/gs)].flatMap(([, row = ""]) =>
      [...row.matchAll(/<td[^>]*>(.*?)<\/td>/gs)].flatMap(([, cell = ""], i): NumberCell[] => {
        // On a telephone the head stands in the cell once more.
        const text = plain(cell.replace(/<span aria-hidden="true"[^>]*>.*?<\/span>/s, ""));
        if (!/[0-9]/.test(text)) return [];
        return [{ caption, head: heads[i + 1] ?? "", text, isOpened: text === "0" || cell.includes("<a ") }];
      }),
    );
  });
}

function plain(markup: string): string {
  return markup
    .replace(/<[^>]+>/g, "")
    .replaceAll("&amp;", "&")
    .replaceAll("&#x27;", "'")
    .trim();
}
