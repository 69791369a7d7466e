import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { DataTable } from "@/app/_components/data-table";
import { HouseFrame } from "@/app/_components/house-frame";
import { LocalTime } from "@/app/_components/local-time";
import { QuestionForm } from "@/app/_components/question-form";
import { LOOK_MINUTES } from "@/lib/access/emergency-look";
import { may } from "@/lib/access/may";
import { requireActor } from "@/lib/auth/session";
import { type LookEntry, listEmergencyLooks } from "@/lib/data/returns/emergency-look";
import { openLookAction } from "./actions";

export const metadata: Metadata = { title: "Emergency looks" };

/** Where an administrator opens one return for a reason, and where managers read who did. */
export default async function EmergencyLooksPage() {
  const actor = await requireActor("read-emergency-looks");
  const entries = await listEmergencyLooks(actor);
  if (entries === null) notFound();
  const mayLook = may(actor, "look-in-emergency");
  return (
    <HouseFrame actor={actor} current="/accounts">
      <div className="space-y-6">
        <h1>Emergency looks</h1>
        <p>
          An administrator sees no case. Where one has to be seen to put something right, it is opened for{" "}
          {LOOK_MINUTES} minutes and for a written reason. Managers are told at once, and every time it is shown is
          kept. Customer, readings, build record and money are not shown.
        </p>
        {mayLook ? (
          <QuestionForm
            id="look"
            action={openLookAction}
            button={`Look at it for ${LOOK_MINUTES} minutes`}
            questions={[
              { name: "reference", label: "Reference of the return" },
              { name: "reason", label: "Why it has to be seen", hint: "Managers read this.", kind: "long" },
            ]}
          />
        ) : null}
        <DataTable
          entriesWhenNarrow
          caption={mayLook ? "Your looks" : "Who looked"}
          columns={[
            {
              head: "Return",
              cell: ({ reference, isRunning, isOwn }: LookEntry) =>
                isOwn && !isRunning ? (
                  reference
                ) : (
                  <Link href={isOwn ? `/emergency-look/${reference}` : `/bench/${reference}`}>{reference}</Link>
                ),
            },
            { head: "Who", cell: ({ openedByName }) => openedByName },
            { head: "Why", cell: ({ reason }) => reason },
            { head: "From", cell: ({ openedAt }) => <LocalTime at={openedAt} /> },
            { head: "Until", cell: ({ endsAt }) => <LocalTime at={endsAt} /> },
            { head: "Shown", cell: ({ shownAt }) => `${shownAt.length} ${shownAt.length === 1 ? "time" : "times"}` },
          ]}
          rows={entries}
          rowKey={({ id }) => id}
          whenEmpty="No administrator has looked at a return."
        />
      </div>
    </HouseFrame>
  );
}
