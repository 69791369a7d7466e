"use client";

import { useActionState, useId } from "react";
import type { OwnStep } from "@/lib/returns/next-steps";
import type { StepField } from "@/lib/returns/step-fields";
import { Button } from "./button";
import { ErrorSummary } from "./error-summary";
import { Field, FieldNotes, fieldWiring, TextArea, TextInput } from "./field";
import { MoveRefusal } from "./move-refusal";
import { type MoveState, untouched } from "./move-state";
import { refusedField } from "./refused-field";
import { SelectInput } from "./select-input";

interface StepFormProps {
  readonly step: Pick<OwnStep, "name" | "label" | "needsReason" | "fields">;
  readonly reference: string;
  readonly version: number;
  readonly action: (before: MoveState, form: FormData) => Promise<MoveState>;
  /** What the reason is asked as; "Why?" where nothing fits better. */
  readonly reasonLabel?: string;
  readonly main?: boolean;
}

/** One move of a return with what it asks. Works before any script has arrived; what was typed outlives a refusal. */
export function StepForm({ step, reference, version, action, reasonLabel = "Why?", main = false }: StepFormProps) {
  const [state, act, isPending] = useActionState(action, untouched);
  const id = useId();
  const typed = state.kind === "refused" ? state.typed : {};
  const wrong = refusedField(state, [...step.fields.map(({ key }) => key), ...(step.needsReason ? ["reason"] : [])]);
  const errorOf = (name: string) => (wrong?.name === name ? wrong.sentence : undefined);
  return (
    <form action={act} className="space-y-4">
      <ErrorSummary
        attempt={state}
        problems={wrong === null ? [] : [{ href: `#${id}-${wrong.name}`, sentence: wrong.sentence }]}
      />
      <input type="hidden" name="reference" value={reference} />
      <input type="hidden" name="name" value={step.name} />
      <input type="hidden" name="seenVersion" value={version} />
      {step.fields.map((field) => (
        <Question
          key={field.key}
          id={`${id}-${field.key}`}
          field={field}
          typed={typed[field.key] ?? ""}
          error={errorOf(field.key)}
        />
      ))}
      {step.needsReason ? (
        <Field id={`${id}-reason`} label={reasonLabel} error={errorOf("reason")}>
          {(wiring) => (
            <TextArea
              {...wiring}
              name="reason"
              rows={3}
              dir="auto"
              maxLength={2000}
              defaultValue={typed.reason ?? ""}
            />
          )}
        </Field>
      ) : null}
      {wrong === null ? <MoveRefusal state={state} /> : null}
      <Button type="submit" weight={main ? "main" : "second"} className="w-full" aria-busy={isPending}>
        {isPending ? "Recording…" : step.label}
      </Button>
    </form>
  );
}

interface QuestionProps {
  readonly id: string;
  readonly field: StepField;
  readonly typed: string;
  readonly error: string | undefined;
}

function Question({ id, field, typed, error }: QuestionProps) {
  if (field.kind === "yes") {
    return (
      <div className={error === undefined ? "" : "border-l-4 border-danger pl-3"}>
        <FieldNotes id={id} error={error} />
        <label className="flex min-h-11 cursor-pointer items-start gap-3 py-1">
          <input
            {...fieldWiring(id, null, error)}
            type="checkbox"
            name={field.key}
            value="true"
            defaultChecked={typed === "true"}
            className="mt-0.5 size-6 shrink-0 accent-accent"
          />
          <span>{field.label}</span>
        </label>
      </div>
    );
  }
  return (
    <Field id={id} label={field.label} error={error}>
      {(wiring) =>
        field.kind === "choice" ? (
          <SelectInput {...wiring} name={field.key} defaultValue={typed}>
            <option value="">Choose</option>
            {(field.choices ?? []).map(({ value, label }) => (
              <option key={value} value={value}>
                {label}
              </option>
            ))}
          </SelectInput>
        ) : (
          <TextInput
            {...wiring}
            name={field.key}
            type={field.kind === "day" ? "date" : "text"}
            defaultValue={typed}
            autoComplete="off"
            maxLength={500}
          />
        )
      }
    </Field>
  );
}
