import { type Column, DataTable } from "@/app/_components/data-table";
import type { MeasurementView } from "@/lib/data/bench-returns";
import { sayQuantity } from "@/lib/diagnosis/quantity-words";

const columns: readonly Column<MeasurementView>[] = [
  { head: "What", cell: ({ name }) => name.replaceAll("-", " ") },
  { head: "Group", numeric: true, cell: ({ group }) => group ?? "whole pack" },
  { head: "Value", numeric: true, cell: ({ value, unit }) => sayQuantity(value, unit) },
  {
    head: "Uncertainty",
    numeric: true,
    cell: ({ uncertainty, unit }) => (uncertainty === null ? "not stated" : `± ${sayQuantity(uncertainty, unit)}`),
  },
  { head: "How", cell: ({ method }) => <div className="min-w-40">{method}</div> },
  { head: "Under which conditions", cell: ({ conditions }) => <div className="min-w-40">{conditions}</div> },
];

/** All numbers taken from the file, folded away: the findings name those that matter. */
export function MeasurementsTable({ measurements }: { measurements: readonly MeasurementView[] }) {
  if (measurements.length === 0) {
    return <p className="text-soft">Nothing in this file could be measured soundly, so no numbers are given.</p>;
  }
  return (
    <details>
      <summary className="flex min-h-11 cursor-pointer items-center font-semibold text-accent underline underline-offset-4">
        {measurements.length} {measurements.length === 1 ? "measurement" : "measurements"} with method and uncertainty
      </summary>
      <DataTable
        caption="Uncertainty is one standard uncertainty, in the unit of the value"
        columns={columns}
        rows={measurements}
        rowKey={({ name, group, conditions, value }) => `${name} ${group} ${conditions} ${value}`}
        whenEmpty=""
      />
    </details>
  );
}
