import { LocalTime } from "@/app/_components/local-time";
import type { EarlierReadings } from "@/lib/data/readings/reading-file-card";
import { sayFault, sayRemedy } from "@/lib/diagnosis/fault-words";
import { listed } from "@/lib/diagnosis/wording";

interface EarlierReadingsListProps {
  readonly earlier: readonly EarlierReadings[];
  /** Where the reader gets the original of a file; null where it does not. */
  readonly original: ((fileId: string) => string) | null;
}

const count = new Intl.NumberFormat("en-GB");

/** Readings that were added before those that count. They stay as they came, with what was made of them. */
export function EarlierReadingsList({ earlier, original }: EarlierReadingsListProps) {
  if (earlier.length === 0) return null;
  return (
    <details className="card">
      <summary className="min-h-11 cursor-pointer px-3 py-2.5 font-semibold">
        {earlier.length === 1 ? "The readings before these" : `${earlier.length} readings files before this one`}
      </summary>
      <ol className="space-y-4 border-t border-rule p-3">
        {earlier.map((file) => (
          <li key={file.id} className="space-y-1">
            <p>
              <strong className="break-all">{file.fileName}</strong>, {count.format(file.rows)} rows, added{" "}
              {file.attachedByName === null ? "" : `by ${file.attachedByName} `}on{" "}
              <LocalTime at={file.attachedAt ?? file.uploadedAt} />
            </p>
            <p>
              {file.faults.length === 0
                ? "It pointed to nothing."
                : `It pointed to: ${listed(file.faults.map(sayFault))}.`}
              {file.suggestedRemedy === null ? "" : ` Suggested then: ${sayRemedy(file.suggestedRemedy)}`}
            </p>
            {original === null ? null : (
              <a className="font-semibold text-accent underline underline-offset-4" href={original(file.id)} download>
                Original file, as it came
              </a>
            )}
          </li>
        ))}
      </ol>
    </details>
  );
}
