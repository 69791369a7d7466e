import { FactList } from "@/app/_components/fact-list";
import { labelOf } from "@/app/_components/label-of";
import { LocalTime } from "@/app/_components/local-time";
import { type FormQuestion, QuestionForm } from "@/app/_components/question-form";
import {
  causeWords,
  customerSawWords,
  foundWords,
  howSureWords,
  partWords,
} from "@/lib/bench-tests/fault-coding.schema";
import type { BenchTestPage } from "@/lib/data/bench-tests/bench-test-page";
import type { CodingView } from "@/lib/data/bench-tests/coding-part";
import { sayFault } from "@/lib/diagnosis/fault-words";
import { symptomLabels } from "@/lib/returns/symptoms";
import { codeFaultAction } from "./actions";

/** The fault on its four levels, each possibly unknown, with every version that was thought before. */
export function CodingPart({ page, mayTest }: { page: BenchTestPage; mayTest: boolean }) {
  const { coding, reference, status, concern } = page;
  const [newest, ...older] = coding.versions;
  const pointed = coding.findings.map(
    ({ fault, confidence }) => `${sayFault(fault)} (${Math.round(confidence * 100)} %)`,
  );
  return (
    <section id="fault" aria-labelledby="fault-title" className="space-y-4">
      <h2 id="fault-title" className="border-b-2 border-ink pb-1">
        The fault, on four levels
      </h2>
      {newest === undefined ? (
        <p>Not coded yet. A decision from the bench needs it; “unknown” is an answer at each level.</p>
      ) : (
        <CodingFacts coding={newest} />
      )}
      {newest?.isEarlierRound ? (
        <p className="font-semibold text-warn">
          Coded before the pack came to the bench again: code it anew, even where nothing has changed.
        </p>
      ) : null}
      {older.length === 0 ? null : (
        <details>
          <summary className="flex min-h-11 cursor-pointer items-center font-semibold">
            What was thought before ({older.length})
          </summary>
          <div className="space-y-4">
            {older.map((one) => (
              <CodingFacts key={one.version} coding={one} />
            ))}
          </div>
        </details>
      )}
      {mayTest && status === "under-test" ? (
        <details open={newest === undefined}>
          <summary className="flex min-h-11 cursor-pointer items-center font-semibold text-accent underline underline-offset-4">
            {newest === undefined ? "Code the fault" : "Code it anew"}
          </summary>
          <div className="mb-6 space-y-3 text-sm">
            <p dir="auto">The customer: “{concern}”</p>
            <p>The dealer chose: {labelOf(symptomLabels, coding.symptom)}.</p>
            <p>
              {pointed.length === 0
                ? "The readings point to nothing."
                : `The readings point to: ${pointed.join("; ")}. That is no finding of yours.`}
            </p>
          </div>
          <QuestionForm
            id="coding"
            action={codeFaultAction}
            hidden={{ reference, seenVersion: String(newest?.version ?? 0) }}
            questions={questions}
            button="Code the fault"
          />
        </details>
      ) : null}
    </section>
  );
}

function CodingFacts({ coding }: { coding: CodingView }) {
  const { version, customerSaw, found, part, cause, groups, fault, howSure, note, byName, at } = coding;
  return (
    <div className="space-y-1">
      <FactList
        columns={1}
        facts={[
          { term: "The customer saw", detail: labelOf(customerSawWords, customerSaw) },
          {
            term: "Found",
            detail: `${labelOf(foundWords, found)}${groups.length === 0 ? "" : `; groups ${groups.join(", ")}`}`,
          },
          { term: "Part or process at fault", detail: labelOf(partWords, part) },
          { term: "Cause", detail: `${labelOf(causeWords, cause)} (${labelOf(howSureWords, howSure).toLowerCase()})` },
          { term: "Fault class", detail: fault === "unknown" ? "None is apt" : sayFault(fault) },
          ...(note === "" ? [] : [{ term: "Note", detail: note }]),
        ]}
      />
      <p className="text-sm text-soft">
        Version {version}, {byName}, <LocalTime at={at} />
      </p>
    </div>
  );
}

const choose = (words: Readonly<Record<string, string>>) => [
  { value: "", label: "Choose" },
  ...Object.entries(words).map(([value, label]) => ({ value, label })),
];

const questions: readonly FormQuestion[] = [
  { name: "customerSaw", label: "1. What the customer saw", choices: choose(customerSawWords) },
  { name: "found", label: "2. What was found", choices: choose(foundWords) },
  { name: "part", label: "3. The part or process at fault", choices: choose(partWords) },
  { name: "cause", label: "4. The cause", choices: choose(causeWords) },
  { name: "groups", label: "Groups concerned", hint: "From 1 at the negative end, for example 7, 8. Empty for none." },
  { name: "howSure", label: "How sure is that?", choices: choose(howSureWords) },
  { name: "note", label: "Note", kind: "long" },
];
