import { type Column, DataTable } from "@/app/_components/data-table";
import { sayElapsed } from "@/lib/readings/elapsed-words";
import type { TracePicture } from "@/lib/readings/trace-picture";
import { type TraceExtremes, traceExtremes } from "@/lib/readings/trace-summary";

const columns: readonly Column<TraceExtremes>[] = [
  { head: "What", cell: ({ label }) => label },
  { head: "Lowest", numeric: true, cell: ({ lowest, unit }) => written(lowest, unit) },
  { head: "after", numeric: true, cell: ({ lowestAtS }) => sayElapsed(lowestAtS) },
  { head: "Highest", numeric: true, cell: ({ highest, unit }) => written(highest, unit) },
  { head: "after ", numeric: true, cell: ({ highestAtS }) => sayElapsed(highestAtS) },
];

export function TraceTable({ picture }: { picture: TracePicture }) {
  return (
    <DataTable
      caption="Lowest and highest value of each trace, and how long after the first row"
      columns={columns}
      rows={traceExtremes(picture)}
      rowKey={({ key }) => key}
      whenEmpty="The file holds no values that could be drawn."
    />
  );
}

const decimals = { V: 3, A: 1, degC: 1, "%": 0 } as const;
const unitWords = { V: "V", A: "A", degC: "°C", "%": "%" } as const;

function written(value: number, unit: TraceExtremes["unit"]): string {
  return `${value.toFixed(decimals[unit]).replace("-", "−")} ${unitWords[unit]}`;
}
