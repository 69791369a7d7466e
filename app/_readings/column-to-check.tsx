import { SelectInput } from "@/app/_components/select-input";
import type { ColumnChoice } from "@/lib/readings/column-choice.schema";
import type { ColumnQuestion } from "@/lib/readings/column-questions";
import { symbolsOf } from "@/lib/readings/column-unit";
import { groupNumberIn } from "@/lib/readings/group-numbers";
import { isTime } from "@/lib/readings/lacks-time";
import { dimensionsOf, quantityNames } from "@/lib/readings/quantity";
import { quantityLabels, signLabels } from "@/lib/readings/quantity-labels";
import { DayOrderSelect } from "./day-order-select";
import { UnitSelect } from "./unit-select";

interface ColumnToCheckProps {
  readonly question: ColumnQuestion;
  readonly choice: ColumnChoice;
  readonly onChoose: (choice: ColumnChoice) => void;
}

/** One column: its heading and first values as they stand in the file, and what it is taken for. */
export function ColumnToCheck({ question, choice, onChoose }: ColumnToCheckProps) {
  const { key, samples, why } = question;
  const { quantity } = choice;
  const symbols = quantity === "ignore" ? [] : symbolsOf(dimensionsOf[quantity].filter((one) => one !== "count"));
  return (
    <fieldset className="space-y-2 border-t border-rule pt-3">
      <legend className="font-semibold wrap-anywhere">{key === "" ? "A column without a heading" : key}</legend>
      <p className="font-mono wrap-anywhere text-soft">
        {samples.map((sample) => (sample === "" ? "empty" : sample)).join(" · ")}
      </p>
      {why === null ? null : <p>{why}</p>}
      <div className="grid gap-2 sm:grid-cols-2">
        <SelectInput
          aria-label={`What ${key} is`}
          value={quantity}
          onChange={(event) => {
            const chosen = [...quantityNames, "ignore" as const].find((name) => name === event.target.value);
            if (chosen !== undefined) onChoose(choiceOf(chosen, question));
          }}
        >
          {(["ignore", ...quantityNames] as const).map((name) => (
            <option key={name} value={name}>
              {quantityLabels[name]}
            </option>
          ))}
        </SelectInput>
        {quantity === "cell-voltage" || quantity === "protection-bit" ? (
          <label className="flex items-center gap-2">
            <span>{quantity === "cell-voltage" ? "Group, from the negative end" : "Bit"}</span>
            <input
              type="number"
              inputMode="numeric"
              min={quantity === "cell-voltage" ? 1 : 0}
              max={400}
              value={choice.number ?? ""}
              onChange={(event) => onChoose({ ...choice, number: numberOf(event.target.value) })}
              className="min-h-11 w-24 rounded border-2 border-edge bg-raised px-3 text-base"
            />
          </label>
        ) : null}
        <UnitSelect
          label={`Unit of ${key}`}
          unit={choice.unit}
          symbols={symbols}
          onChoose={(unit) => onChoose({ ...choice, unit })}
        />
        {quantity === "current" ? (
          <SelectInput
            aria-label={`Which way ${key} counts`}
            value={choice.sign ?? ""}
            onChange={(event) => {
              const sign = event.target.value;
              onChoose({ ...choice, sign: sign === "charge-positive" || sign === "discharge-positive" ? sign : null });
            }}
          >
            <option value="">Direction: left to the values, where they tell it</option>
            {(["charge-positive", "discharge-positive"] as const).map((sign) => (
              <option key={sign} value={sign}>
                {signLabels[sign]}
              </option>
            ))}
          </SelectInput>
        ) : null}
        {choice.dayOrder === undefined ? null : (
          <DayOrderSelect
            label={`Whether the day or the month comes first in ${key}`}
            order={choice.dayOrder}
            onChoose={(dayOrder) => onChoose({ ...choice, dayOrder })}
          />
        )}
      </div>
    </fieldset>
  );
}

/** A new meaning keeps nothing of the old one that would not fit it. */
function choiceOf(quantity: ColumnChoice["quantity"], { key, proposal }: ColumnQuestion): ColumnChoice {
  if (quantity === proposal.quantity) return proposal;
  return {
    quantity,
    number: quantity === "cell-voltage" ? groupNumberIn(key) : null,
    unit: null,
    sign: null,
    ...(isTime(quantity) && proposal.dayOrder !== undefined ? { dayOrder: proposal.dayOrder } : {}),
  };
}

function numberOf(text: string): number | null {
  const number = Number.parseInt(text, 10);
  return Number.isInteger(number) && number >= 0 && number <= 400 ? number : null;
}
