import { useState } from "react";
import { Button } from "@/app/_components/button";
import { Notice } from "@/app/_components/notice";
import { SelectInput } from "@/app/_components/select-input";
import { foldAlikeColumns } from "@/lib/readings/alike-columns";
import type { ColumnChoice, HeldQuestions } from "@/lib/readings/column-choice.schema";
import type { ColumnAnswers, ColumnQuestion } from "@/lib/readings/column-questions";
import { bitsToSay, groupsToSay } from "@/lib/readings/group-numbers";
import { lacksTime } from "@/lib/readings/lacks-time";
import { quantityLabels } from "@/lib/readings/quantity-labels";
import { AlikeColumns } from "./alike-columns";
import { ColumnToCheck } from "./column-to-check";

interface AskColumnsProps {
  readonly fileName: string;
  readonly questions: HeldQuestions;
  readonly onAnswer: (answers: ColumnAnswers) => void;
  readonly onOtherFile: () => void;
}

/** What we take each column for, to be confirmed or changed once: the next file with the same header is read so without asking. */
export function AskColumns({ fileName, questions, onAnswer, onOtherFile }: AskColumnsProps) {
  const { columns, asksZone, timeZone, danger } = questions;
  const [choices, setChoices] = useState(() => new Map(columns.map(({ key, proposal }) => [key, proposal])));
  const [zone, setZone] = useState(timeZone);
  const [isTried, setTried] = useState(false);
  const choose = (key: string, choice: ColumnChoice) => setChoices((before) => new Map(before).set(key, choice));
  const choiceOf = ({ key, proposal }: ColumnQuestion) => choices.get(key) ?? proposal;
  const wrong = sayWhatIsMissing(choices);
  function confirm() {
    setTried(true);
    if (wrong === null) onAnswer({ mapping: Object.fromEntries(choices), timeZone: asksZone ? zone : null });
  }
  const toCheck = columns.filter(({ why }) => why !== null);
  const clear = columns.filter(({ why }) => why === null);
  const list = (some: typeof columns) => (
    <ul className="space-y-3">
      {foldAlikeColumns(some).map(([question, ...others]) =>
        question === undefined ? null : (
          <li key={question.key}>
            {others.length === 0 ? (
              <ColumnToCheck
                question={question}
                choice={choiceOf(question)}
                onChoose={(choice) => choose(question.key, choice)}
              />
            ) : (
              <AlikeColumns questions={[question, ...others]} choiceOf={choiceOf} onChoose={choose} />
            )}
          </li>
        ),
      )}
    </ul>
  );
  return (
    <section aria-labelledby="columns-title" className="card space-y-4 p-4">
      {danger === null ? null : (
        <div role="alert">
          <Notice kind="danger" title={danger}>
            <p>
              This holds until service has looked at the pack, whatever you answer below. The safety officer has been
              told.
            </p>
          </Notice>
        </div>
      )}
      <h2 id="columns-title">What are the columns of this file?</h2>
      <p className="break-all text-soft">{fileName}</p>
      <p role="status">
        Not everything in this file says what it is. Check what we made of it; the next file with the same header is
        read the same way.
      </p>
      {toCheck.length === 0 ? null : list(toCheck)}
      {asksZone ? (
        <div className="space-y-1">
          <label htmlFor="columns-zone" className="font-semibold">
            Where was the clock of this file set?
          </label>
          <p className="text-soft">Its dates name no time zone.</p>
          <SelectInput id="columns-zone" value={zone} onChange={(event) => setZone(event.target.value)}>
            {[...new Set([timeZone, "UTC", ...Intl.supportedValuesOf("timeZone")])].map((name) => (
              <option key={name} value={name}>
                {name.replaceAll("_", " ")}
              </option>
            ))}
          </SelectInput>
        </div>
      ) : null}
      {clear.length === 0 ? null : (
        <details>
          <summary className="flex min-h-11 cursor-pointer items-center font-semibold text-accent underline underline-offset-4">
            {toCheck.length === 0 ? "All columns" : "The other columns"} ({clear.length})
          </summary>
          {list(clear)}
        </details>
      )}
      {isTried && wrong !== null ? (
        <p role="alert" className="border-l-4 border-danger pl-3 font-semibold wrap-anywhere text-danger">
          Error: {wrong}
        </p>
      ) : null}
      <div className="flex flex-wrap gap-3">
        <Button onClick={confirm}>This is right, read the file</Button>
        <Button weight="second" onClick={onOtherFile}>
          Choose another file
        </Button>
      </div>
    </section>
  );
}

/** Why the answers cannot be taken yet, as a sentence; null where they can. */
function sayWhatIsMissing(choices: ReadonlyMap<string, ColumnChoice>): string | null {
  if (lacksTime(choices.values()))
    return "no column is the time yet. Say which one it is, or choose a file that has one.";
  const undated = [...choices].flatMap(([key, { dayOrder }]) => (dayOrder === null ? [key] : []));
  if (undated.length > 0) return `say whether the day or the month comes first in ${namedFirst(undated)}.`;
  const { unsaid, twice } = groupsToSay(choices);
  if (unsaid.length > 0) return `say which group each of these columns is: ${namedFirst(unsaid)}.`;
  if (twice.length > 0)
    return `two columns are the same group: ${twice.join(", ")}. Leave one of the two out, or say which group it is.`;
  const bits = bitsToSay(choices);
  if (bits.unsaid.length > 0)
    return `say which bit each of these flags is: ${namedFirst(bits.unsaid)}. Where nobody knows, choose “${quantityLabels["other-flags"]}”.`;
  return bits.twice.length > 0
    ? `two columns are the same bit: ${bits.twice.join(", ")}. Leave one of the two out, or say which bit it is.`
    : null;
}

/** Columns named in one sentence: enough to find them by (engineering default). */
const NAMED = 3;

function namedFirst(keys: readonly string[]): string {
  const named = keys.slice(0, NAMED).join(", ");
  return keys.length > NAMED ? `${named} and ${keys.length - NAMED} more` : named;
}
