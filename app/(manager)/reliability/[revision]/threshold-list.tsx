import Link from "next/link";
import type { RevisionFacts } from "@/lib/data/reliability/group-page";

/** Where the diagnosis of this model compares with other numbers than usual, and where that is changed. */
export function ThresholdList({ modelCode, thresholds }: Pick<RevisionFacts, "modelCode" | "thresholds">) {
  return (
    <>
      <OwnList thresholds={thresholds} />
      <Link
        href={`/thresholds/${modelCode}`}
        className="inline-flex min-h-11 items-center font-semibold text-accent underline underline-offset-4"
      >
        Every version for {modelCode}, with sources, and how to change them
      </Link>
    </>
  );
}

function OwnList({ thresholds }: Pick<RevisionFacts, "thresholds">) {
  if (thresholds === null) {
    return (
      <p>
        What is stored as thresholds of this model cannot be read as such: files of this model cannot be judged until it
        is put right.
      </p>
    );
  }
  if (thresholds.length === 0) {
    return <p className="text-soft">Its readings are judged by the usual thresholds.</p>;
  }
  return (
    <ul className="list-disc space-y-2 pl-5">
      {thresholds.map(({ name, value, usual }) => (
        <li key={name}>
          <span className="break-all">{name}</span>: {value}
          <span className="block text-soft">
            {usual === null
              ? "No threshold has this name: no file of this model is called sound until it is put right."
              : `Usually ${usual}`}
          </span>
        </li>
      ))}
    </ul>
  );
}
