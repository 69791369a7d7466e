import { CalendarDay } from "@/app/_components/calendar-day";
import { CoverAnswer } from "@/app/_components/cover-answer";
import { FactList } from "@/app/_components/fact-list";
import { Notice } from "@/app/_components/notice";
import { SerialText } from "@/app/_components/serial-text";
import type { PackCard } from "@/lib/data/packs/packs";

/** What the serial tells before a single further question: which pack, its cover today, what else is known of it. */
export function PackCardView({ pack }: { pack: PackCard }) {
  return (
    <section aria-labelledby="pack-title" className="card space-y-5 border-2 border-ink p-4">
      <div>
        <p className="caption-print">This is the pack</p>
        <h2 id="pack-title" tabIndex={-1}>
          {pack.modelName} <SerialText>{pack.serialShown}</SerialText>
        </h2>
      </div>
      {pack.openReturn === null ? null : (
        <Notice kind="caution" title="A return of this pack is already open">
          <p>
            {pack.openReturn.reference === null ? (
              "It was lodged elsewhere. Ask the maker's service desk before you lodge another."
            ) : (
              <>
                You lodged it as{" "}
                <a href={`/dealer/returns/${pack.openReturn.reference}`}>
                  <SerialText>{pack.openReturn.reference}</SerialText>
                </a>
                . Look there before you lodge another.
              </>
            )}
          </p>
        </Notice>
      )}
      {pack.openActions.map(({ title, action }) => (
        <Notice key={title} kind="caution" title={`Open action on this pack: ${title}`}>
          <p>{action}</p>
        </Notice>
      ))}
      <FactList
        facts={[
          { term: "Built on", detail: <CalendarDay date={pack.builtOn} /> },
          { term: "Revision", detail: pack.revisionInWords },
          {
            term: "Earlier returns from you",
            detail:
              pack.earlierReturns.length === 0 ? (
                "None"
              ) : (
                <ul>
                  {pack.earlierReturns.map(({ reference, lodgedOn, statusInWords }) => (
                    <li key={reference}>
                      <SerialText>{reference}</SerialText>, <CalendarDay date={lodgedOn} />: {statusInWords}
                    </li>
                  ))}
                </ul>
              ),
          },
        ]}
      />
      <div>
        <h3 className="mb-2">Cover, if the customer told you today</h3>
        <CoverAnswer cover={pack.cover} />
      </div>
    </section>
  );
}
