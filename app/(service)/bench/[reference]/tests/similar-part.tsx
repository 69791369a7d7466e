import Link from "next/link";
import { labelOf } from "@/app/_components/label-of";
import { LocalTime } from "@/app/_components/local-time";
import { SerialText } from "@/app/_components/serial-text";
import { type Comeback, daysSince } from "@/lib/bench-tests/similar-returns";
import type { SimilarReturns } from "@/lib/data/bench-tests/similar-returns";
import { listed } from "@/lib/diagnosis/wording";
import { remedyLabels, sayConfirmedFault } from "@/lib/returns/decision.schema";
import { sayDays } from "@/lib/warranty/say-date";

/** Decided returns like this one: why they are alike, what solved them, how many. */
export function SimilarPart({ similar, now }: { similar: SimilarReturns; now: Date }) {
  const { shown, alike, lookedAt, solved } = similar;
  return (
    <section id="similar" aria-labelledby="similar-title" className="space-y-4">
      <h2 id="similar-title" className="border-b-2 border-ink pb-1">
        Similar returns
      </h2>
      {alike === 0 ? (
        <p>
          None of {lookedAt} decided returns that share a lot or a finding is like this one. Returns that are not
          decided do not count.
        </p>
      ) : (
        <>
          <p>
            {alike} of {lookedAt} decided returns that share a lot or a finding are alike. Likeness is no proof: packs
            are alike for other reasons too.
          </p>
          {solved.length === 0 ? (
            <p>
              None of them was repaired, replaced or put right from a distance yet, so nothing can be seen to have held.
            </p>
          ) : (
            <table className="w-full border-collapse text-left">
              <caption className="caption-print py-1 text-left">
                What solved them: repaired, replaced or put right from a distance
              </caption>
              <thead>
                <tr>
                  <th scope="col" className="caption-print py-1 pr-3">
                    Found and done
                  </th>
                  <th scope="col" className="caption-print py-1 text-right">
                    Returns
                  </th>
                </tr>
              </thead>
              <tbody>
                {solved.map(({ remedy, confirmedFault, count, cameBack, undecided, daysSince: since, work }) => (
                  <tr key={`${remedy} ${confirmedFault}`} className="border-t border-rule align-top">
                    <th scope="row" className="py-1 pr-3 font-normal">
                      {faultOf(confirmedFault)}: {labelOf(remedyLabels, remedy).toLowerCase()}
                      <span className="block text-sm">
                        {sayHeld({ cameBack, undecided })} {sayRange(since)}
                      </span>
                      {work.length === 0 ? null : (
                        <span className="block text-sm text-soft">
                          Done: {work.map(({ what, count: times }) => `${what.toLowerCase()} (${times})`).join(", ")}
                        </span>
                      )}
                    </th>
                    <td className="py-1 text-right">{count}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          )}
          <ol className="space-y-3">
            {shown.map(({ past, because }) => (
              <li key={past.reference} className="card space-y-1 p-3">
                <p className="flex flex-wrap items-center gap-x-3">
                  <Link
                    href={`/bench/${past.reference}`}
                    className="flex min-h-11 items-center font-semibold text-accent underline underline-offset-4"
                  >
                    <SerialText>{past.reference}</SerialText>
                  </Link>
                  <span className="text-sm text-soft">
                    decided <LocalTime at={past.decidedAt} />
                    {past.carriedOutAt === null
                      ? ", not carried out yet"
                      : `, carried out ${sayDays(daysSince(past.carriedOutAt, now))} ago`}
                  </span>
                </p>
                <p>
                  {faultOf(past.confirmedFault)}: {labelOf(remedyLabels, past.remedy).toLowerCase()}.
                  {comebackWords[past.comeback]}
                </p>
                {past.work.length === 0 ? null : <p>Done: {past.work.join(", ").toLowerCase()}.</p>}
                <p dir="auto" className="line-clamp-3 whitespace-pre-line">
                  {past.reason}
                </p>
                <p className="text-sm text-soft">{listed(because)}.</p>
              </li>
            ))}
          </ol>
        </>
      )}
    </section>
  );
}

const comebackWords: Readonly<Record<Comeback, string>> = {
  none: "",
  undecided: " It came back afterwards, and is being looked at.",
  confirmed: " It came back afterwards, and something was found.",
};

function sayHeld({ cameBack, undecided }: { readonly cameBack: number; readonly undecided: number }): string {
  const open = undecided === 0 ? "" : `, ${undecided} being looked at`;
  return `${cameBack === 0 ? "None came back with a fault" : `${cameBack} came back with a fault`}${open}.`;
}

function sayRange({ least, most }: { readonly least: number; readonly most: number }): string {
  return least === most ? `${sayDays(most)} since.` : `${least} to ${sayDays(most)} since.`;
}

function faultOf(confirmedFault: string): string {
  return sayConfirmedFault(confirmedFault);
}
