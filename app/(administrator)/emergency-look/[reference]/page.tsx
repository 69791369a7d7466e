import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { FactList } from "@/app/_components/fact-list";
import { HouseFrame } from "@/app/_components/house-frame";
import { labelOf } from "@/app/_components/label-of";
import { LocalTime } from "@/app/_components/local-time";
import { Notice } from "@/app/_components/notice";
import { SerialText } from "@/app/_components/serial-text";
import { roleWords } from "@/lib/access/actor";
import { requireActor } from "@/lib/auth/session";
import { readCaseUnderLook } from "@/lib/data/returns/emergency-look";
import { returnStatusWords } from "@/lib/returns/return-status";
import { turnWords } from "@/lib/returns/return-turn";
import { type TrackName, trackNames, trackStateWords } from "@/lib/returns/track-words";

export const metadata: Metadata = { title: "One return, in an emergency" };

const trackTerms: Readonly<Record<TrackName, string>> = {
  safety: "Safety of the pack",
  custody: "Where the pack is",
  hold: "Legal hold",
  remedy: "What the customer was promised",
};

interface LookPageProps {
  readonly params: Promise<{ readonly reference: string }>;
}

/** How one return stands and what was done with it, while a look at it runs. Nothing can be changed here. */
export default async function LookPage({ params }: LookPageProps) {
  const actor = await requireActor("look-in-emergency");
  const seen = await readCaseUnderLook(actor, (await params).reference);
  if (seen === null) notFound();
  return (
    <HouseFrame actor={actor} current="/accounts">
      <div className="space-y-6">
        <h1>Return {seen.reference}</h1>
        <Notice kind="caution" title="You look at a case that is not yours">
          <p>
            Until <LocalTime at={seen.endsAt} />, because: {seen.reason} Managers were told, and this page is kept with
            the time.
          </p>
        </Notice>
        <FactList
          facts={[
            { term: "Status", detail: returnStatusWords(seen.status) },
            { term: "Whose turn", detail: labelOf(turnWords, seen.turn) },
            { term: "Due", detail: seen.dueAt === null ? "no day is set" : <LocalTime at={seen.dueAt} /> },
            { term: "Lodged", detail: <LocalTime at={seen.lodgedAt} /> },
            { term: "Dealer", detail: `${seen.dealer.name}, ${seen.dealer.town}` },
            { term: "Reviewed by", detail: seen.takenByName ?? "nobody yet" },
            { term: "Pack", detail: <SerialText>{seen.serialShown}</SerialText> },
            ...trackNames.flatMap((name) =>
              seen.tracks
                .filter(({ track }) => track === name)
                .map(({ state }) => ({ term: trackTerms[name], detail: trackStateWords(name, state) })),
            ),
          ]}
        />
        <section aria-labelledby="history" className="space-y-3">
          <h2 id="history">What was done</h2>
          <ol className="space-y-3 border-l-2 border-rule pl-4">
            {seen.moves.map(({ sequence, at, actorName, actorRole, to, reason }) => (
              <li key={sequence}>
                <strong>{returnStatusWords(to)}</strong>, {actorName} ({labelOf(roleWords, actorRole)}),{" "}
                <LocalTime at={at} />
                {reason === "" ? null : (
                  <p dir="auto" className="wrap-anywhere">
                    {reason}
                  </p>
                )}
              </li>
            ))}
          </ol>
        </section>
      </div>
    </HouseFrame>
  );
}
