import { type Column, DataTable } from "@/app/_components/data-table";
import { sayFault } from "@/lib/diagnosis/fault-words";
import type { GroupLife } from "@/lib/reliability/group-life";
import { lagCorrectedSentence, lawSentence, rateSentence } from "@/lib/reliability/law-sentences";
import { grouped, inHundred, inHundredBetween } from "@/lib/reliability/plain-share";
import { confirmationSentence, type ReportingLag } from "@/lib/reliability/reporting-lag";

type Fault = GroupLife["faults"][number];

const columns: readonly Column<Fault>[] = [
  { head: "Fault found", cell: ({ fault }) => sayFault(fault) },
  { head: "Failures", numeric: true, cell: ({ failures }) => grouped(failures) },
  { head: "Share failed of it", numeric: true, cell: ({ share }) => inHundred(share) },
  { head: "95 % limits", numeric: true, cell: ({ lower, upper }) => inHundredBetween(lower, upper) },
  { head: "By", numeric: true, cell: ({ months }) => `${months} months` },
];

/** Which faults, by what law, how often a month, and what is still on its way. */
export function LifePart({ life, lag }: { readonly life: GroupLife; readonly lag: ReportingLag | null }) {
  return (
    <div className="space-y-4">
      <DataTable
        caption="By the fault that was found; together they add up to the curve"
        columns={columns}
        rows={life.faults}
        rowKey={({ fault }) => fault}
        whenEmpty="No failure has been confirmed by then, so there is nothing to tell apart."
      />
      <p className="max-w-4xl">{lawSentence(life.model)}</p>
      <p className="max-w-4xl">{rateSentence(life)}</p>
      <p className="max-w-4xl">
        {confirmationSentence(lag)} {lag === null ? "" : lagCorrectedSentence(life)}
      </p>
    </div>
  );
}
