import { CalendarDay, writtenDay } from "@/app/_components/calendar-day";
import { type Column, DataTable } from "@/app/_components/data-table";
import { SerialText } from "@/app/_components/serial-text";
import type { FailedPack } from "@/lib/data/reliability/group-packs";
import { sayFault } from "@/lib/diagnosis/fault-words";
import { grouped } from "@/lib/reliability/plain-share";

interface FailedPackTableProps {
  readonly failures: readonly FailedPack[];
  readonly group: string;
  readonly dataDate: string;
}

const columns: readonly Column<FailedPack>[] = [
  {
    head: "Return",
    cell: ({ reference }) => (
      <a href={`/bench/${reference}`}>
        <SerialText>{reference}</SerialText>
      </a>
    ),
  },
  { head: "Serial", cell: ({ serialShown }) => <SerialText>{serialShown}</SerialText> },
  { head: "Fault found", cell: ({ confirmedFault }) => sayFault(confirmedFault) },
  { head: "Age in days", numeric: true, cell: ({ ageDays }) => grouped(ageDays) },
  { head: "Told on", cell: ({ toldOn }) => <CalendarDay date={toldOn} /> },
];

/** Each failure that the curve counts, youngest first, with the way to its return. */
export function FailedPackTable({ failures, group, dataDate }: FailedPackTableProps) {
  return (
    <DataTable
      caption={`Confirmed failures of ${group} within cover up to ${writtenDay(dataDate)}, youngest packs first`}
      columns={columns}
      rows={failures}
      rowKey={({ serial }) => serial}
      whenEmpty="No pack of it has failed within cover so far."
    />
  );
}
