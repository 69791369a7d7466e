import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { CalendarDay } from "@/app/_components/calendar-day";
import { type Column, DataTable } from "@/app/_components/data-table";
import { HouseFrame } from "@/app/_components/house-frame";
import { requireActor } from "@/lib/auth/session";
import { listThresholdModels, type ModelThresholdHistory } from "@/lib/data/readings/threshold-versions";
import { byFullName } from "@/lib/diagnosis/threshold-fields";
import { linkClass } from "./link-class";
import { WhatAChangeDoes } from "./what-a-change-does";

export const metadata: Metadata = { title: "Thresholds of the diagnosis" };

const columns: readonly Column<ModelThresholdHistory>[] = [
  {
    head: "Model",
    cell: ({ code, name }) => (
      <Link href={`/thresholds/${code}`} className={linkClass}>
        {code}: {name}
      </Link>
    ),
  },
  { head: "In force", cell: ({ inForceVersion }) => inForceVersion ?? "As written at set-up" },
  { head: "Other than usual", numeric: true, cell: ({ inForce }) => byFullName(inForce).size },
  { head: "To come", cell: (model) => <ToCome model={model} /> },
];

export default async function ThresholdsPage() {
  const actor = await requireActor("read-build-record");
  const models = await listThresholdModels(actor);
  if (models === null) notFound();
  return (
    <HouseFrame actor={actor} current="/bench">
      <div className="max-w-4xl space-y-6">
        <div className="space-y-2">
          <h1>By which thresholds readings are judged</h1>
          <p>
            Every model is judged by the usual thresholds, save those it has of its own. A version is never edited: one
            person proposes the next, a manager who did not propose it approves it.
          </p>
          <WhatAChangeDoes actor={actor} />
        </div>
        <DataTable
          entriesWhenNarrow
          caption="Thresholds by model"
          columns={columns}
          rows={models}
          rowKey={({ code }) => code}
          whenEmpty="There is no pack model yet."
        />
      </div>
    </HouseFrame>
  );
}

function ToCome({ model: { versions, newest, inForceVersion } }: { readonly model: ModelThresholdHistory }) {
  const open = versions.find(({ state }) => state === "proposed");
  if (open !== undefined) return `${open.version} waits for a manager`;
  const next = versions.find(({ version }) => version === newest.version && version !== inForceVersion);
  if (next === undefined) return "Nothing";
  return (
    <>
      {next.version} from <CalendarDay date={next.validFrom} />
    </>
  );
}
