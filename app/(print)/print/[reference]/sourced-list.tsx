import { type SourcedText, sayMark } from "@/lib/transport/sourced-text";

/** Sentences on paper, each with its source in small print behind it. */
export function SourcedList({ texts }: { texts: readonly SourcedText[] }) {
  return (
    <ul className="sheet-list">
      {texts.map(({ text, mark }) => (
        <li key={text}>
          {text} <span className="sheet-source">[{sayMark(mark)}]</span>
        </li>
      ))}
    </ul>
  );
}
