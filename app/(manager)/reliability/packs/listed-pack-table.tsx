import { type Column, DataTable } from "@/app/_components/data-table";
import { SerialText } from "@/app/_components/serial-text";
import { sayFault } from "@/lib/diagnosis/fault-words";
import type { ListedPack } from "@/lib/reliability/pack-lists";
import { grouped } from "@/lib/reliability/plain-share";

/** Packs behind a number, each with its ages and the way to its return. */
export function ListedPackTable({
  caption,
  packs,
}: {
  readonly caption: string;
  readonly packs: readonly ListedPack[];
}) {
  return (
    <DataTable
      caption={caption}
      captionHidden
      columns={columns}
      rows={packs}
      rowKey={({ serial, reference }) => `${serial} ${reference ?? ""}`}
      whenEmpty="No pack is in this list today."
    />
  );
}

const columns: readonly Column<ListedPack>[] = [
  { head: "Serial", cell: ({ serialShown }) => <SerialText>{serialShown}</SerialText> },
  { head: "Model", cell: ({ stratum }) => stratum },
  {
    head: "Watched from, days",
    numeric: true,
    cell: ({ entryDays }) => (entryDays === null ? "" : grouped(entryDays)),
  },
  { head: "Age at the end, days", numeric: true, cell: ({ exitDays }) => (exitDays === null ? "" : grouped(exitDays)) },
  { head: "How it stands", cell: ({ status, detail }) => sayStatus(status, detail) },
  {
    head: "Return",
    cell: ({ reference }) =>
      reference === null ? (
        ""
      ) : (
        <a href={`/bench/${reference}`} className="inline-flex min-h-11 items-center">
          <SerialText>{reference}</SerialText>
        </a>
      ),
  },
];

function sayStatus(status: string, detail: string): string {
  const plain = status.replaceAll("-", " ");
  if (detail === "") return plain;
  return `${plain}: ${sayFault(detail).toLowerCase()}`;
}
