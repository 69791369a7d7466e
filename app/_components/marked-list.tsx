export interface MarkedLine {
  readonly text: string;
  /** Where the line comes from, in words. */
  readonly mark: string;
  /** Somebody must still compare it with its source. */
  readonly unverified: boolean;
}

/** Sentences with their source behind each; one that nobody compared says so in words, not by colour. */
export function MarkedList({ lines, ordered = false }: { lines: readonly MarkedLine[]; ordered?: boolean }) {
  const List = ordered ? "ol" : "ul";
  return (
    <List className={`space-y-2 pl-5 ${ordered ? "list-decimal" : "list-disc"}`}>
      {lines.map(({ text, mark, unverified }) => (
        <li key={text}>
          {text} <span className={`text-sm ${unverified ? "font-semibold text-warn" : "text-soft"}`}>[{mark}]</span>
        </li>
      ))}
    </List>
  );
}
