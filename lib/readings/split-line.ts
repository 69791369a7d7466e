/** Marks that may separate the values of a line, in the order in which a tie is decided. */
export const delimiters = [",", ";", "\t", "|"] as const;

export type Delimiter = (typeof delimiters)[number];

/**
 * Fields of one line by RFC 4180: a field that opens with a quote runs to its closing quote, a doubled quote stands for one.
 * Unlike there a quoted field never runs over the end of its line: readings are numbers, and one stray quote must not swallow the
 * rest of a file. Blanks around a field are dropped.
 */
export function splitLine(line: string, delimiter: Delimiter): string[] {
  const fields: string[] = [];
  let from = 0;
  while (from <= line.length) {
    const start = from + leadingBlanks(line, from, delimiter);
    if (line[start] !== '"') {
      const found = line.indexOf(delimiter, from);
      const end = found < 0 ? line.length : found;
      fields.push(line.slice(from, end).trim());
      from = end + 1;
      continue;
    }
    let text = "";
    let at = start + 1;
    while (at < line.length) {
      if (line[at] !== '"') text += line[at++];
      else if (line[at + 1] === '"') {
        text += '"';
        at += 2;
      } else break;
    }
    const found = line.indexOf(delimiter, at + 1);
    const end = found < 0 ? line.length : found;
    fields.push((text + line.slice(at + 1, end)).trim());
    from = end + 1;
  }
  return fields;
}

function leadingBlanks(line: string, from: number, delimiter: Delimiter): number {
  let at = from;
  while (line[at] === " " || (line[at] === "\t" && delimiter !== "\t")) at++;
  return at - from;
}

/** Lines of a text, ended by LF, CR LF or a lone CR; the text after the last end is the last line. */
export function splitLines(text: string): string[] {
  return text.split(/\r\n|\n|\r/);
}
