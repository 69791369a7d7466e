import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { OwnFrame } from "@/app/_components/own-frame";
import { requireActor } from "@/lib/auth/session";
import { listRememberedColumns } from "@/lib/data/readings/column-mappings";
import { RememberedKind } from "./remembered-kind";

export const metadata: Metadata = { title: "What is remembered of files" };

/** What was confirmed about the columns of files, by dealer and kind of file, so that a wrong answer can be taken back. */
export default async function RememberedColumnsPage() {
  const actor = await requireActor("withdraw-columns");
  const kinds = await listRememberedColumns(actor);
  if (kinds === null) notFound();
  return (
    <OwnFrame actor={actor} ofHouse="/bench">
      <div className="max-w-3xl space-y-6">
        <div className="space-y-2">
          <h1>What is remembered of files</h1>
          <p>
            Where a readings file did not say what its columns are, somebody said it once. The next file with the same
            header is read the same way, unless its own values show otherwise. Forget what is wrong: the next file is
            asked about again. Files that were read already stay as they are.
          </p>
        </div>
        {kinds.length === 0 ? <p>Nothing is remembered.</p> : null}
        <ul className="space-y-4">
          {kinds.map((kind) => (
            <RememberedKind key={kind.id} kind={kind} isOfManyDealers={actor.dealerId === null} />
          ))}
        </ul>
      </div>
    </OwnFrame>
  );
}
