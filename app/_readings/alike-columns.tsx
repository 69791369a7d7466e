import { SelectInput } from "@/app/_components/select-input";
import type { ColumnChoice } from "@/lib/readings/column-choice.schema";
import type { ColumnQuestion } from "@/lib/readings/column-questions";
import { symbolsOf } from "@/lib/readings/column-unit";
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
  return (
    <fieldset className="space-y-2 border-t border-rule pt-3">
      <legend className="font-semibold wrap-anywhere">
        {names} ({questions.length} columns)
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
            for (const [place, question] of questions.entries())
              onChoose(question.key, sameForAll(chosen, question, place));
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
      <details>
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

/** Groups are numbered in the order of the file; what is proposed already keeps its number. */
function sameForAll(quantity: ColumnChoice["quantity"], { proposal }: ColumnQuestion, place: number): ColumnChoice {
  if (quantity === proposal.quantity) return proposal;
  return { quantity, number: quantity === "cell-voltage" ? place + 1 : null, unit: null, sign: null };
}

function sharedBy<Value>(values: readonly Value[]): Value | null {
  const [first = null, ...others] = new Set(values);
  return others.length === 0 ? first : null;
}
