import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { AnswerForm } from "@/app/_components/answer-form";
import { HouseFrame } from "@/app/_components/house-frame";
import { KnowledgeFields } from "@/app/_components/knowledge-fields";
import { Notice } from "@/app/_components/notice";
import { requireActor } from "@/lib/auth/session";
import { readTransport } from "@/lib/data/transport/transport";
import { raiseIncidentAction } from "./actions";

export const metadata: Metadata = { title: "Raise an incident" };

export default async function RaiseIncidentPage({ params }: { params: Promise<{ readonly reference: string }> }) {
  const actor = await requireActor("read-build-record");
  const found = await readTransport(actor, (await params).reference);
  if (found === null) notFound();
  return (
    <HouseFrame actor={actor} current="/bench">
      <div className="max-w-2xl space-y-6">
        <h1>Raise a safety incident on {found.reference}</h1>
        <p>
          <Link href={`/bench/${found.reference}`}>Back to the return</Link>
        </p>
        <Notice
          kind="danger"
          title="People first: if it is going on now, leave, warn the others and call the emergency number"
        >
          <p>An incident holds the pack as evidence and shows the safety officer which clocks may be running.</p>
        </Notice>
        <AnswerForm action={raiseIncidentAction} submit="Raise the incident" weight="danger">
          <input type="hidden" name="reference" value={found.reference} />
          <KnowledgeFields />
        </AnswerForm>
      </div>
    </HouseFrame>
  );
}
