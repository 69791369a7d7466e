import { DownloadLink } from "@/app/_components/download-link";
import { FactList } from "@/app/_components/fact-list";
import { labelOf } from "@/app/_components/label-of";
import { LocalTime } from "@/app/_components/local-time";
import type { BenchReturn } from "@/lib/data/returns/bench-returns";
import { sayElapsed } from "@/lib/readings/elapsed-words";
import { BenchSection } from "./bench-section";

interface FileFactsProps {
  readonly reference: string;
  readonly readings: NonNullable<BenchReturn["readings"]>;
  readonly file: NonNullable<BenchReturn["file"]>;
}

const count = new Intl.NumberFormat("en-GB");

const signs: Readonly<Record<string, string>> = {
  "charge-positive": "Positive when charging, as everywhere here",
  "discharge-positive": "Positive when discharging; turned round here",
  unknown: "Cannot be told from the file",
};

/** How the file was read and what of it was not, with the way to its original bytes. */
export function FileFacts({ reference, readings, file }: FileFactsProps) {
  const notListed = readings.rejectedRows - readings.rejected.length;
  return (
    <BenchSection title="The file itself">
      <FactList
        facts={[
          { term: "File", detail: <span className="break-all">{readings.fileName}</span> },
          { term: "Size", detail: `${count.format(readings.sizeBytes)} bytes` },
          { term: "Rows read", detail: count.format(readings.rows) },
          { term: "Rows left out", detail: count.format(readings.rejectedRows) },
          { term: "Cell groups", detail: count.format(readings.groups) },
          { term: "Time covered by rows", detail: `${Math.round(readings.coverage * 100)} in 100` },
          { term: "First row", detail: file.startedAt === null ? "Without a date" : <LocalTime at={file.startedAt} /> },
          { term: "Spans", detail: sayElapsed(file.spanSeconds) },
          { term: "Repairs of the time column", detail: count.format(readings.timeRepairs) },
          { term: "Current in the file", detail: labelOf(signs, file.currentSign) },
          { term: "Received", detail: <LocalTime at={file.uploadedAt} /> },
          { term: "Read by version", detail: file.parserVersion },
        ]}
      />
      <p className="text-sm">
        <span className="caption-print block">SHA-256 of the original bytes</span>
        <span translate="no" className="font-mono break-all">
          {readings.sha256}
        </span>
      </p>
      {readings.remarks.length === 0 ? null : (
        <ul className="list-disc pl-5">
          {readings.remarks.map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
        </ul>
      )}
      {readings.rejected.length === 0 ? null : (
        <details>
          <summary className="flex min-h-11 cursor-pointer items-center font-semibold text-accent underline underline-offset-4">
            Rows left out, with line and reason
          </summary>
          <ul className="list-disc pl-5">
            {readings.rejected.map(({ line, reason }) => (
              <li key={line}>
                Line {line}: {reason}
              </li>
            ))}
            {notListed > 0 ? <li>{count.format(notListed)} more, not listed here</li> : null}
          </ul>
        </details>
      )}
      <p>
        <DownloadLink href={`/bench/${reference}/file`}>Original file, as it came</DownloadLink>
      </p>
    </BenchSection>
  );
}
