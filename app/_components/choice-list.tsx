import type { ComponentProps, ReactNode } from "react";
import { FieldNotes, fieldWiring } from "./field";

export interface Choice {
  readonly value: string;
  readonly label: string;
}

interface ChoiceListProps {
  /** Id of the first choice, so that a link from the error summary lands on something that can be operated. */
  readonly id: string;
  readonly type: "radio" | "checkbox";
  readonly legend: string;
  /** Large where the legend is the question of the page. */
  readonly legendLook?: "question" | "label" | "hidden";
  readonly hint?: ReactNode;
  readonly error?: string | undefined;
  readonly choices: readonly Choice[];
  /** Value set apart from the others by a rule, such as "None of these". */
  readonly apart?: string;
  /** name, and whatever else every input of the list needs: change handlers, ref. */
  readonly control: ComponentProps<"input">;
}

const legends = {
  question: "text-[1.6rem] font-bold leading-tight",
  label: "font-semibold",
  hidden: "sr-only",
} as const;

/** Radio buttons or check boxes as rows a gloved thumb can hit. */
export function ChoiceList(props: ChoiceListProps) {
  const { id, type, legend, legendLook = "label", hint, error, choices, apart, control } = props;
  const wiring = fieldWiring(id, hint, error);
  return (
    <fieldset
      aria-describedby={wiring["aria-describedby"]}
      aria-invalid={wiring["aria-invalid"]}
      className={error === undefined ? "" : "border-l-4 border-danger pl-3"}
    >
      <legend className={legends[legendLook]}>{legend}</legend>
      <FieldNotes id={id} hint={hint} error={error} />
      <div className="mt-3 border-t border-rule">
        {choices.map((choice, position) => (
          <label
            key={choice.value}
            className={`flex min-h-12 cursor-pointer items-center gap-3 border-b border-rule bg-raised px-3 py-2 hover:bg-sunk has-checked:bg-accent-paper has-checked:font-semibold ${
              choice.value === apart ? "mt-4 border-t" : ""
            }`}
          >
            <input
              {...control}
              id={position === 0 ? id : `${id}-${choice.value}`}
              type={type}
              value={choice.value}
              className="size-6 shrink-0 accent-accent"
            />
            <span>{choice.label}</span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}
