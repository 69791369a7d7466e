import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { DataTable } from "@/app/_components/data-table";
import { HouseFrame } from "@/app/_components/house-frame";
import { labelOf } from "@/app/_components/label-of";
import { LocalTime } from "@/app/_components/local-time";
import { roleWords } from "@/lib/access/actor";
import { requireActor } from "@/lib/auth/session";
import { type ExportEntry, listExports } from "@/lib/data/accounts/exports-taken";

export const metadata: Metadata = { title: "Files taken" };

/** Which files left the house, and who took them. */
export default async function ExportsPage() {
  const actor = await requireActor("read-exports");
  const entries = await listExports(actor);
  if (entries === null) notFound();
  return (
    <HouseFrame actor={actor}>
      <div className="space-y-6">
        <h1>Files taken, the latest first</h1>
        <p>
          Every table that somebody took as a file, every original log, and every photograph that was opened by itself
          in the browser, by dealers too. An entry is written before the file leaves. A photograph that a page shows
          among others leaves none, nor does one that a program fetches as a picture of a page.
        </p>
        <DataTable
          entriesWhenNarrow
          caption="Files taken"
          columns={[
            { head: "When", cell: ({ at }: ExportEntry) => <LocalTime at={at} /> },
            { head: "File", cell: ({ what }) => what },
            { head: "Chosen by", cell: ({ choice }) => (choice === "" ? "All of it" : choice) },
            { head: "Who", cell: ({ byName, byRole }) => `${byName} (${labelOf(roleWords, byRole)})` },
          ]}
          rows={entries}
          rowKey={({ id }) => id}
          whenEmpty="Nobody took a file yet."
        />
      </div>
    </HouseFrame>
  );
}
