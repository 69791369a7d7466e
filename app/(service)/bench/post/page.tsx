import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { type Column, DataTable } from "@/app/_components/data-table";
import { HouseFrame } from "@/app/_components/house-frame";
import { LocalTime } from "@/app/_components/local-time";
import { OneStepForm } from "@/app/_components/one-step-form";
import { SerialText } from "@/app/_components/serial-text";
import { requireActor } from "@/lib/auth/session";
import { listUnreachedAudiences } from "@/lib/data/notices/notice-audience";
import { type LetterInTrouble, readPostState } from "@/lib/data/notices/notices";
import { noticeKindWords } from "@/lib/notices/notice-kinds";
import { tryAgainAction } from "./actions";
import { UnreachedPart } from "./unreached-part";

export const metadata: Metadata = { title: "Post" };

const columns: readonly Column<LetterInTrouble>[] = [
  { head: "About", cell: ({ reference }) => <SerialText>{reference}</SerialText> },
  { head: "Message", cell: ({ kind }) => noticeKindWords[kind] },
  { head: "To", cell: ({ dealerName }) => dealerName ?? "The maker's own people" },
  { head: "What the mail server said", cell: ({ lastProblem }) => lastProblem ?? "Nothing yet" },
  {
    head: "What happens next",
    cell: ({ id, isGivenUp, attempts, nextAttemptAt, reference }) =>
      isGivenUp ? (
        <div className="space-y-2">
          <strong>Given up after {attempts} attempts. Tell the dealer another way.</strong>
          <OneStepForm
            action={tryAgainAction}
            hidden={{ letterId: id }}
            button="Try once more"
            spoken={`Try the message about ${reference} once more`}
          />
        </div>
      ) : (
        <>
          Tried again after <LocalTime at={nextAttemptAt} />
        </>
      ),
  },
];

export default async function PostPage() {
  const actor = await requireActor("read-queue");
  const state = await readPostState(actor);
  if (state === null) notFound();
  return (
    <HouseFrame actor={actor} current="/bench/post">
      <div className="space-y-5">
        <h1>Messages that did not arrive</h1>
        <p>
          {state.isMailSetUp
            ? `${state.sent} letters are sent and ${state.waiting} are waiting.`
            : "No mail server is set up: messages stand on the dealers' own pages and, for the house, under “Messages”. Whoever runs this program names one with SMTP_URL and MAIL_FROM."}
        </p>
        <DataTable
          entriesWhenNarrow
          caption="Letters in trouble"
          captionHidden
          columns={columns}
          rows={state.troubled}
          rowKey={({ id }) => id}
          whenEmpty={
            state.isMailSetUp
              ? "None: every letter that was due has been taken by the mail server."
              : "None: no letter is sent, so none can fail."
          }
        />
        <UnreachedPart audiences={await listUnreachedAudiences(actor)} />
      </div>
    </HouseFrame>
  );
}
