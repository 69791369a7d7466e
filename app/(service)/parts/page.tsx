import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { type Column, DataTable } from "@/app/_components/data-table";
import { HouseFrame } from "@/app/_components/house-frame";
import { QuestionForm } from "@/app/_components/question-form";
import { may } from "@/lib/access/may";
import { requireActor } from "@/lib/auth/session";
import { listParts, type PartLot } from "@/lib/data/bench-tests/parts";
import { partKinds, partKindWords } from "@/lib/repair/operations";
import { bookPartsInAction } from "./actions";

export const metadata: Metadata = { title: "Parts" };

const columns: Column<PartLot>[] = [
  { head: "Lot", cell: ({ code }) => <span className="font-mono">{code}</span> },
  { head: "Kind", cell: ({ kind }) => partKindWords[kind] },
  { head: "Supplier", cell: ({ supplier }) => supplier },
  { head: "Left", numeric: true, cell: ({ bookedIn, used }) => `${bookedIn - used} of ${bookedIn}` },
  {
    head: "Stopped",
    cell: ({ stop }) => (stop === null ? "No" : <strong className="text-danger">{stop}</strong>),
  },
];

/** What lies on the shelf for repairs, by lot: only from here a part goes into a pack. */
export default async function PartsPage() {
  const actor = await requireActor("read-build-record");
  const parts = await listParts(actor);
  if (parts === null) notFound();
  return (
    <HouseFrame actor={actor} current="/bench">
      <div className="space-y-6">
        <h1>Parts on the shelf</h1>
        <div className="grid items-start gap-x-8 gap-y-10 *:min-w-0 lg:grid-cols-[minmax(0,1fr)_minmax(0,24rem)]">
          <DataTable
            entriesWhenNarrow
            caption="Lots of parts, with what is left by the books"
            columns={columns}
            rows={parts}
            rowKey={({ id }) => id}
            whenEmpty="Nothing is booked in yet. A part from a lot that is not here is refused in the work on a pack."
          />
          {may(actor, "work-on-pack") ? (
            <section aria-labelledby="book-title" className="space-y-3">
              <h2 id="book-title" className="border-b border-edge pb-1">
                Book parts in
              </h2>
              <QuestionForm
                id="part"
                action={bookPartsInAction}
                questions={[
                  {
                    name: "kind",
                    label: "Kind of part",
                    choices: [
                      { value: "", label: "Choose" },
                      ...partKinds.map((value) => ({ value, label: partKindWords[value] })),
                    ],
                  },
                  { name: "lotCode", label: "Lot", hint: "As printed on the bag." },
                  { name: "supplier", label: "Supplier" },
                  { name: "quantity", label: "How many", kind: "number" },
                ]}
                button="Book them in"
              />
            </section>
          ) : null}
        </div>
      </div>
    </HouseFrame>
  );
}
