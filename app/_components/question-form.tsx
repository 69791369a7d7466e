"use client";

import { type ReactNode, useActionState } from "react";
import { Button } from "./button";
import { ErrorSummary } from "./error-summary";
import { Field, TextArea, TextInput } from "./field";
import { type FormAnswer, untouchedForm } from "./form-answer";
import { SelectInput } from "./select-input";

export interface FormQuestion {
  readonly name: string;
  readonly label: string;
  readonly hint?: string;
  readonly value?: string;
  /** `number` is a whole one; `decimal` brings up a keyboard with a point. */
  readonly kind?: "text" | "number" | "decimal" | "date" | "long";
  /** A closed list of answers; then `kind` means nothing. */
  readonly choices?: readonly { readonly value: string; readonly label: string }[];
}

interface QuestionFormProps {
  readonly id: string;
  readonly action: (before: FormAnswer, form: FormData) => Promise<FormAnswer>;
  readonly questions: readonly FormQuestion[];
  readonly hidden?: Readonly<Record<string, string>>;
  readonly button: string;
  readonly children?: ReactNode;
}

/** A form on one page: the server's answer above it, its words at the fields, and what was typed kept. Works before any script. */
export function QuestionForm({ id, action, questions, hidden = {}, button, children }: QuestionFormProps) {
  const [state, send, isSending] = useActionState(action, untouchedForm);
  const refused = state.kind === "refused" ? state : null;
  const errorOf = (name: string) => refused?.problems.find(({ field }) => field === name)?.sentence;
  return (
    <form action={send} className="max-w-xl space-y-4" key={refused?.attempt ?? state.kind}>
      <ErrorSummary
        attempt={refused?.attempt ?? 0}
        problems={(refused?.problems ?? []).map(({ field, sentence }) => ({ href: `#${id}-${field}`, sentence }))}
      />
      {state.kind === "done" ? (
        <p role="status" className="font-semibold text-good">
          {state.sentence}
        </p>
      ) : null}
      {Object.entries(hidden).map(([name, value]) => (
        <input key={name} type="hidden" name={name} value={value} />
      ))}
      {questions.map((question) => (
        <Question
          key={question.name}
          id={`${id}-${question.name}`}
          question={question}
          typed={refused?.typed[question.name]}
          error={errorOf(question.name)}
        />
      ))}
      {children}
      <Button type="submit" aria-busy={isSending}>
        {isSending ? "Sending…" : button}
      </Button>
    </form>
  );
}

interface QuestionProps {
  readonly id: string;
  readonly question: FormQuestion;
  readonly typed: string | undefined;
  readonly error: string | undefined;
}

function Question({
  id,
  question: { name, label, hint, value = "", kind = "text", choices },
  typed,
  error,
}: QuestionProps) {
  const given = typed ?? value;
  return (
    <Field id={id} label={label} hint={hint} error={error}>
      {(wiring) =>
        choices !== undefined ? (
          <SelectInput {...wiring} name={name} defaultValue={given}>
            {choices.map((choice) => (
              <option key={choice.value} value={choice.value}>
                {choice.label}
              </option>
            ))}
          </SelectInput>
        ) : kind === "long" ? (
          <TextArea {...wiring} name={name} defaultValue={given} rows={3} />
        ) : (
          <TextInput
            {...wiring}
            name={name}
            defaultValue={given}
            type={kind === "date" ? "date" : "text"}
            inputMode={kind === "number" ? "numeric" : kind === "decimal" ? "decimal" : undefined}
          />
        )
      }
    </Field>
  );
}
