import { useState } from "react";
import { SelectInput } from "@/app/_components/select-input";
import type { ColumnChoice } from "@/lib/readings/column-choice.schema";
import type { ColumnQuestion } from "@/lib/readings/column-questions";
import { symbolsOf } from "@/lib/readings/column-unit";
import { groupNumbers, headingsOfKeys } from "@/lib/readings/group-numbers";
import { dimensionsOf, quantityNames } from "@/lib/readings/quantity";
import { quantityLabels } from "@/lib/readings/quantity-labels";
import { ColumnToCheck } from "./column-to-check";
import { UnitSelect } from "./unit-select";

interface AlikeColumnsProps {
  /** At least one; all proposed for the same, in the same unit, with the same doubt. */
  readonly questions: readonly ColumnQuestion[];
  readonly choiceOf: (question: ColumnQuestion) => ColumnChoice;
  readonly onChoose: (key: string, choice: ColumnChoice) => void;
}

/** Columns that raise one question between them, as the groups of a pack do: one answer for all, and each by itself where it differs. */
export function AlikeColumns({ questions, choiceOf, onChoose }: AlikeColumnsProps) {
  const [isOpen, setOpen] = useState(false);
  const [first] = questions;
  const last = questions.at(-1);
  if (first === undefined || last === undefined) return null;
  const quantity = sharedBy(questions.map((question) => choiceOf(question).quantity));
  const unit = sharedBy(questions.map((question) => choiceOf(question).unit));
  const symbols =
    quantity === null || quantity === "ignore"
      ? []
      : symbolsOf(dimensionsOf[quantity].filter((one) => one !== "count"));
  const names = `${first.key} to ${last.key}`;
  const isUnsaid = quantity === "cell-voltage" && questions.some((question) => choiceOf(question).number === null);
  const numbers = `${choiceOf(first).number} to ${choiceOf(last).number}`;
  return (
    <fieldset className="space-y-2 border-t border-rule pt-3">
      <legend className="font-semibold wrap-anywhere">
        {names} ({questions.length} columns{quantity === "cell-voltage" && !isUnsaid ? `, groups ${numbers}` : ""})
      </legend>
      <p className="font-mono wrap-anywhere text-soft">
        {first.samples.map((sample) => (sample === "" ? "empty" : sample)).join(" · ")}
      </p>
      {first.why === null ? null : <p>{first.why}</p>}
      <div className="grid gap-2 sm:grid-cols-2">
        <SelectInput
          aria-label={`What ${names} are`}
          value={quantity ?? ""}
          onChange={(event) => {
            const chosen = [...quantityNames, "ignore" as const].find((name) => name === event.target.value);
            if (chosen === undefined) return;
            const told =
              chosen === "cell-voltage" ? groupNumbers(headingsOfKeys(questions.map(({ key }) => key))) : null;
            setOpen(chosen === "cell-voltage" && told === null);
            for (const [place, question] of questions.entries())
              onChoose(question.key, sameForAll(chosen, question, told?.[place] ?? null));
          }}
        >
          {quantity === null ? <option value="">Not all the same</option> : null}
          {(["ignore", ...quantityNames] as const).map((name) => (
            <option key={name} value={name}>
              {quantityLabels[name]}
            </option>
          ))}
        </SelectInput>
        <UnitSelect
          label={`Unit of ${names}`}
          unit={unit}
          symbols={symbols}
          onChoose={(chosen) => {
            for (const question of questions) onChoose(question.key, { ...choiceOf(question), unit: chosen });
          }}
        />
      </div>
      {isUnsaid ? (
        <p className="font-semibold">The headings do not tell which group each of them is. Say it for each below.</p>
      ) : null}
      <details open={isOpen} onToggle={(event) => setOpen(event.currentTarget.open)}>
        <summary className="flex min-h-11 cursor-pointer items-center font-semibold text-accent underline underline-offset-4">
          Look at each of them
        </summary>
        <ul className="space-y-3">
          {questions.map((question) => (
            <li key={question.key}>
              <ColumnToCheck
                question={question}
                choice={choiceOf(question)}
                onChoose={(choice) => onChoose(question.key, choice)}
              />
            </li>
          ))}
        </ul>
      </details>
    </fieldset>
  );
}

/** Groups have the numbers their headings tell; what is proposed already keeps its own. */
function sameForAll(
  quantity: ColumnChoice["quantity"],
  { proposal }: ColumnQuestion,
  number: number | null,
): ColumnChoice {
  return quantity === proposal.quantity ? proposal : { quantity, number, unit: null, sign: null };
}

function sharedBy<Value>(values: readonly Value[]): Value | null {
  const [first = null, ...others] = new Set(values);
  return others.length === 0 ? first : null;
}
