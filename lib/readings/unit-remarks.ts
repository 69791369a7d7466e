/** "Column 'a'", "Columns 'a' and 'b'" or "Columns 'a' to 'z' (26)", for a sentence about some columns of one kind. */
export function namesOfColumns(headers: readonly string[]): string {
  const [first = "", second = ""] = headers;
  if (headers.length === 1) return `Column '${first}'`;
  if (headers.length === 2) return `Columns '${first}' and '${second}'`;
  return `Columns '${first}' to '${headers[headers.length - 1]}' (${headers.length})`;
}
