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
  /** Where there is no room for what the other rules ask for: that stands on the sheet of A4 or Letter. */
  readonly isSmall: boolean;
}

/** That the rules on this paper are not those of the whole way, whose they are at the other end, and who decides. */
export function RoutePart({ route, country, languages, isSmall }: RoutePartProps) {
  if (route === null) return null;
  const { title, sentences, other } = route;
  const own = sentences.filter(({ text }) => text !== WHO_DECIDES);
  return (
    <section className="sheet-route">
      <p>
        <strong>
          <SaidTwice english={title} country={country} languages={languages} />
        </strong>
      </p>
      {own.map(({ text }) => (
        <p key={text}>{text}</p>
      ))}
      <p>
        <SaidTwice english={WHO_DECIDES} country={country} languages={languages} />
      </p>
      {isSmall || other === null || other.packing === null ? null : (
        <>
          <p>
            <strong>
              {other.trackName}: {other.packing.instruction}
            </strong>
          </p>
          <ul className="sheet-list">
            {other.packing.marks.map((mark) => (
              <li key={mark.text}>
                <SheetMark mark={mark} isSmall={false} />
              </li>
            ))}
          </ul>
          <SourcedList texts={[other.packing.level, ...other.packing.documentEntries, ...other.remarks]} />
        </>
      )}
      {isSmall ? null : (
        <p className="sheet-source">[{[...new Set(sentences.map(({ mark }) => sayMark(mark)))].join("; ")}]</p>
      )}
    </section>
  );
}
