import { type RouteWarning, WHO_DECIDES } from "@/lib/transport/route";
import { sayMark } from "@/lib/transport/sourced-text";
import type { SheetLanguages } from "@/lib/transport/who-packs";
import { SaidTwice } from "./said-twice";
import { SheetMark } from "./sheet-mark";
import { SourcedList } from "./sourced-list";

interface RoutePartProps {
  readonly route: RouteWarning | null;
  readonly country: string;
  readonly languages: SheetLanguages;
}

/** That the rules on this paper are not those of the whole way, whose they are at the other end, and who decides. */
export function RoutePart({ route, country, languages }: RoutePartProps) {
  if (route === null) return null;
  const { title, sentences } = route;
  return (
    <section className="sheet-route">
      <strong>
        <SaidTwice english={title} country={country} languages={languages} />
      </strong>
      {sentences.map(({ text, mark }) => (
        <p key={text}>
          {text === WHO_DECIDES ? <SaidTwice english={text} country={country} languages={languages} /> : text}{" "}
          <span className="sheet-source">[{sayMark(mark)}]</span>
        </p>
      ))}
    </section>
  );
}

/** What the rules at the other end ask for, so that whoever decides has both in hand. */
export function OtherEndPart({ route }: { route: RouteWarning | null }) {
  const other = route?.other ?? null;
  if (other === null || other.packing === null) return null;
  const { instruction, largeInstruction, level, contents, marks, documentEntries } = other.packing;
  return (
    <section className="sheet-other-end">
      <h2 className="sheet-heading-large">What the rules at the other end of the way ask for</h2>
      <p>
        {other.trackName}: packing by {instruction}
        {largeInstruction === null ? "" : ` (${largeInstruction} for one large battery in a large packaging)`}
      </p>
      <h3 className="sheet-heading">Packing</h3>
      <SourcedList texts={[level, ...contents]} />
      <h3 className="sheet-heading">Marks on the package</h3>
      <ul className="sheet-list">
        {marks.map((mark) => (
          <li key={mark.text}>
            <SheetMark mark={mark} isSmall={false} />
          </li>
        ))}
      </ul>
      <h3 className="sheet-heading">In the transport document</h3>
      <SourcedList texts={documentEntries} />
      <h3 className="sheet-heading">Besides</h3>
      <SourcedList texts={other.remarks} />
    </section>
  );
}
