import { sayDate } from "@/lib/warranty/say-date";
import type { OtherClocks } from "@/lib/warranty/three-clocks";

/** What runs beside the maker's guarantee, each under its own heading so that none is taken for another. */
export function OtherClocksPart({ clocks: { legal, settlement } }: { clocks: OtherClocks }) {
  return (
    <>
      <section className="space-y-2 border-t border-rule pt-3">
        <h3 className="caption-print">The seller's legal duty</h3>
        <ul className="list-disc space-y-1 pl-5">
          {legal.sentences.map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
        </ul>
        <details>
          <summary className="min-h-11 cursor-pointer py-2 text-soft">Where this comes from. {legal.counsel}</summary>
          <ul className="list-disc space-y-1 pl-5 text-soft">
            {legal.sources.map(({ named, mark }) => (
              <li key={named}>
                {named} ({mark})
              </li>
            ))}
            {legal.row === null ? null : (
              <li>
                The row for sales from {sayDate(legal.row.salesFrom)} ({legal.row.version}).
              </li>
            )}
            {legal.sources.length === 0 ? <li>Nothing is held for this case.</li> : null}
          </ul>
        </details>
      </section>
      <section className="space-y-2 border-t border-rule pt-3">
        <h3 className="caption-print">Between maker and dealer</h3>
        <p>{settlement}</p>
      </section>
    </>
  );
}
