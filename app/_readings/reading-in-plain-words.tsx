import { FactList } from "@/app/_components/fact-list";
import { suggestedTestCaution } from "@/lib/bench-tests/next-test-caution";
import { sayFault, sayRemedy, saySafetyClass } from "@/lib/diagnosis/fault-words";
import { plainCautions } from "@/lib/diagnosis/plain-reasons";
import { inPrint } from "@/lib/diagnosis/wording";
import { classToHandleBy } from "@/lib/returns/queue-risk";

export interface ReadingSummary {
  readonly id: string;
  readonly fileName: string;
  readonly sizeBytes: number;
  readonly rows: number;
  readonly groups: number;
  readonly rejectedRows: number;
  readonly rejected: readonly { readonly line: number; readonly reason: string }[];
  readonly remarks: readonly string[];
  readonly findings: readonly {
    readonly fault: string;
    readonly groups: readonly number[];
    readonly safetyClass: string;
    readonly evidenceFor: readonly string[];
  }[];
  readonly suggestion: {
    readonly remedy: string;
    readonly reasons: readonly string[];
    readonly plainReasons: readonly string[];
  } | null;
}

const count = new Intl.NumberFormat("en-GB");

/** What the file shows, for somebody who is not a technician: what was read, what it points to, what is suggested. */
export function ReadingInPlainWords({ summary }: { summary: ReadingSummary }) {
  const { fileName, sizeBytes, rows, groups, rejectedRows, rejected, remarks, findings, suggestion } = summary;
  const [first] = findings;
  const classes = findings.map(({ safetyClass }) => safetyClass);
  const caution = suggestion === null ? null : suggestedTestCaution(suggestion.remedy, findings);
  return (
    <div className="space-y-4">
      <FactList
        facts={[
          { term: "File", detail: <span className="break-all">{fileName}</span> },
          { term: "Size", detail: sayBytes(sizeBytes) },
          { term: "Rows read", detail: count.format(rows) },
          { term: "Rows left out", detail: count.format(rejectedRows) },
          { term: "Cell groups in the file", detail: count.format(groups) },
        ]}
      />
      {first === undefined ? null : (
        <div>
          <h3>The readings point to: {sayFault(first.fault)}</h3>
          {first.groups.length === 0 ? null : <p>{sayGroups(first.groups)}</p>}
        </div>
      )}
      <div>
        <p>
          <strong>How to handle the pack, going by the readings: </strong>
          {saySafetyClass(classToHandleBy(classes, suggestion?.remedy ?? null))}
        </p>
        <SentenceList sentences={plainCautions(findings)} />
      </div>
      {suggestion === null ? null : (
        <div>
          <h3>What the readings suggest</h3>
          <p>{sayRemedy(suggestion.remedy)}</p>
          <SentenceList sentences={plainSentences(summary)} />
          <p className="mt-1 text-soft">
            This is a suggestion from the readings alone. Service examines the pack and decides.
          </p>
        </div>
      )}
      {first === undefined ? null : (
        <details>
          <summary className={foldLook}>The measurements behind it</summary>
          {caution === null ? null : (
            <p className="font-semibold text-warn">
              A test named here is for the bench, not for the counter: do not try it. {caution}
            </p>
          )}
          <SentenceList sentences={[...new Set([...first.evidenceFor, ...(suggestion?.reasons ?? [])].map(inPrint))]} />
        </details>
      )}
      {remarks.length + rejected.length === 0 ? null : (
        <details>
          <summary className={foldLook}>How the file was read</summary>
          <Sentences
            list={[...remarks, ...rejected.map(({ line, reason }) => `Line ${line} was left out: ${reason}`)]}
          />
        </details>
      )}
    </div>
  );
}

/**
 * The plain sentences, without those said before; a suggestion of an earlier release has none, and then its reasons must
 * do where nothing else speaks.
 */
function plainSentences({ findings, suggestion }: ReadingSummary): readonly string[] {
  if (suggestion === null) return [];
  const { reasons, plainReasons } = suggestion;
  if (plainReasons.length === 0) return findings.length === 0 ? reasons : [];
  const said = new Set(plainCautions(findings));
  return plainReasons.filter((sentence) => !said.has(sentence));
}

function Sentences({ list }: { list: readonly string[] }) {
  if (list.length === 0) return null;
  return (
    <ul className="mt-1 list-disc space-y-1 pl-5">
      {list.map((sentence) => (
        <li key={sentence}>{sentence}</li>
      ))}
    </ul>
  );
}

const foldLook = "flex min-h-11 cursor-pointer items-center font-semibold text-accent underline underline-offset-4";

function SentenceList({ sentences }: { sentences: readonly string[] }) {
  if (sentences.length === 0) return null;
  return (
    <ul className="mt-1 list-disc pl-5">
      {sentences.map((sentence) => (
        <li key={sentence}>{sentence}</li>
      ))}
    </ul>
  );
}

function sayGroups(groups: readonly number[]): string {
  const named = groups.join(", ");
  return `${groups.length === 1 ? "Cell group" : "Cell groups"} ${named}, counted from the negative end.`;
}

function sayBytes(bytes: number): string {
  if (bytes < 1_000_000) return `${count.format(Math.ceil(bytes / 1000))} kB`;
  return `${count.format(Math.round(bytes / 100_000) / 10)} MB`;
}
