"use client";

import { useActionState, useId } from "react";
import type { OwnStep } from "@/lib/returns/next-steps";
import type { StepField } from "@/lib/returns/step-fields";
import { Button } from "./button";
import { Field, TextArea, TextInput } from "./field";
import { MoveRefusal } from "./move-refusal";
import { type MoveState, untouched } from "./move-state";
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
  return (
    <form action={act} className="space-y-4">
      <input type="hidden" name="reference" value={reference} />
      <input type="hidden" name="name" value={step.name} />
      <input type="hidden" name="seenVersion" value={version} />
      {step.fields.map((field) => (
        <Question key={field.key} id={`${id}-${field.key}`} field={field} typed={typed[field.key] ?? ""} />
      ))}
      {step.needsReason ? (
        <Field id={`${id}-reason`} label={reasonLabel}>
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
      <MoveRefusal state={state} />
      <Button type="submit" weight={main ? "main" : "second"} className="w-full" aria-busy={isPending}>
        {isPending ? "Recording…" : step.label}
      </Button>
    </form>
  );
}

function Question({ id, field, typed }: { id: string; field: StepField; typed: string }) {
  if (field.kind === "yes") {
    return (
      <label className="flex min-h-11 cursor-pointer items-start gap-3 py-1">
        <input
          type="checkbox"
          name={field.key}
          value="true"
          defaultChecked={typed === "true"}
          className="mt-0.5 size-6 shrink-0 accent-accent"
        />
        <span>{field.label}</span>
      </label>
    );
  }
  return (
    <Field id={id} label={field.label}>
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
