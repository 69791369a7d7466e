import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { FactList } from "@/app/_components/fact-list";
import { markedLines } from "@/app/_components/marked-lines";
import { MarkedList } from "@/app/_components/marked-list";
import { requireActor } from "@/lib/auth/session";
import { readQuarantinePlace } from "@/lib/data/receiving/quarantine-places";
import { emergencyCard } from "@/lib/receiving/emergency-card";

export const metadata: Metadata = { title: "Emergency card" };

/** The card to print and hang up at a place. */
export default async function EmergencyCardPage({ params }: { params: Promise<{ readonly code: string }> }) {
  const actor = await requireActor("read-build-record");
  const place = await readQuarantinePlace(actor, (await params).code);
  if (place === null) notFound();
  const card = emergencyCard({ ...place, placeCode: place.code });
  return (
    <main className="mx-auto max-w-3xl space-y-5 bg-raised p-6 text-lg">
      <p className="screen-only">
        <Link href="/quarantine">Back to quarantine</Link>
      </p>
      <div aria-hidden className="tape" />
      <h1>{card.title}</h1>
      <FactList facts={card.facts} columns={1} />
      <MarkedList ordered lines={markedLines(card.steps)} />
      <p className="font-bold">{card.deferral}</p>
    </main>
  );
}
