import { type Column, DataTable } from "@/app/_components/data-table";
import { type NamedThreshold, namedThresholds, sayWithUnit } from "@/lib/diagnosis/threshold-fields";

const columns: readonly Column<NamedThreshold>[] = [
  { head: "Threshold", cell: ({ label }) => label },
  { head: "Usually", numeric: true, short: true, cell: (threshold) => sayWithUnit(threshold.usual, threshold) },
  { head: "Where it comes from", cell: ({ source }) => source },
];

/** What readings are judged by where a model has nothing of its own, for everybody who reads a verdict that rests on it. */
export function UsualThresholds() {
  const subjects = [...new Set(namedThresholds.map(({ subject }) => subject))];
  return (
    <details className="card">
      <summary className="min-h-12 cursor-pointer px-3 py-3 font-semibold">
        The usual thresholds, {namedThresholds.length} in all
      </summary>
      <div className="space-y-6 border-t border-rule p-3">
        {subjects.map((subject) => (
          <DataTable
            key={subject}
            entriesWhenNarrow
            caption={subject}
            columns={columns}
            rows={namedThresholds.filter((one) => one.subject === subject)}
            rowKey={({ name }) => name}
            whenEmpty="None."
          />
        ))}
      </div>
    </details>
  );
}
