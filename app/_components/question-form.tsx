"use client";

import { type ReactNode, useActionState, useState } from "react";
import { Button } from "./button";
import { ErrorSummary } from "./error-summary";
import { Field, TextArea, TextInput } from "./field";
import { isWanted } from "./find-question";
import { type FormAnswer, untouchedForm } from "./form-answer";
import { MeanwhileNote, useLookedAgain } from "./meanwhile-note";
import { QuestionFinder } from "./question-finder";
import { SelectInput } from "./select-input";

export interface FormQuestion {
  readonly name: string;
  readonly label: string;
  readonly hint?: string;
  readonly value?: string;
  /** `number` is a whole one; `decimal` brings up a keyboard with a point. */
  readonly kind?: "text" | "number" | "decimal" | "date" | "long";
  /** Of a `long` answer, where three lines are too few. */
  readonly rows?: number;
  /** Questions of one section lie folded under its name, open where one of them was refused. */
  readonly section?: string;
  /** A closed list of answers; then `kind` means nothing. */
  readonly choices?: readonly { readonly value: string; readonly label: string }[];
}

interface QuestionFormProps {
  readonly id: string;
  readonly action: (before: FormAnswer, form: FormData) => Promise<FormAnswer>;
  readonly questions: readonly FormQuestion[];
  readonly hidden?: Readonly<Record<string, string>>;
  readonly button: string;
  /** Of a form with more questions than anybody reads: what one looks them up by. */
  readonly finder?: string;
  readonly children?: ReactNode;
}

/** A form on one page: the server's answer above it, its words at the fields, and what was typed kept. Works before any script. */
export function QuestionForm({ id, action, questions, hidden = {}, button, finder, children }: QuestionFormProps) {
  const [state, send, isSending] = useActionState(action, untouchedForm);
  const { isOver, onLookedAgain } = useLookedAgain(state);
  const [wanted, setWanted] = useState("");
  const refused = state.kind === "refused" ? state : null;
  const problems = isOver ? [] : (refused?.problems ?? []);
  const meanwhile = isOver ? null : (refused?.meanwhile ?? null);
  const errorOf = (name: string) => problems.find(({ field }) => field === name)?.sentence;
  return (
    <form action={send} className="max-w-xl space-y-4" key={refused?.attempt ?? state.kind}>
      <ErrorSummary
        attempt={refused?.attempt ?? 0}
        problems={problems.map(({ field, sentence }) => ({ href: `#${id}-${field}`, sentence }))}
      />
      {meanwhile === null ? null : <MeanwhileNote meanwhile={meanwhile} onLookedAgain={onLookedAgain} />}
      {state.kind === "done" ? (
        <p role="status" className="font-semibold text-good">
          {state.sentence}
        </p>
      ) : null}
      {Object.entries(hidden).map(([name, value]) => (
        <input key={name} type="hidden" name={name} value={value} />
      ))}
      {finder === undefined ? null : (
        <QuestionFinder id={`${id}-finder`} label={finder} questions={questions} wanted={wanted} onWanted={setWanted} />
      )}
      {sectionsOf(questions).map(({ section, inside }) => {
        // What is not looked for is out of sight and sent all the same.
        const isShown = (question: FormQuestion) => section === undefined || isWanted(question, wanted);
        const fields = inside.map((question) => (
          <div key={question.name} hidden={!isShown(question)}>
            <Question
              id={`${id}-${question.name}`}
              question={question}
              typed={refused?.typed[question.name]}
              error={errorOf(question.name)}
            />
          </div>
        ));
        if (section === undefined) return fields;
        const isOpen = inside.some(({ name }) => errorOf(name) !== undefined);
        const isFound = wanted.trim() !== "" && inside.some(isShown);
        return (
          <details key={section} className="card" open={isOpen || isFound} hidden={!inside.some(isShown)}>
            <summary className="min-h-12 cursor-pointer px-3 py-3 font-semibold">{section}</summary>
            <div className="space-y-4 border-t border-rule p-3">{fields}</div>
          </details>
        );
      })}
      {children}
      <Button type="submit" aria-busy={isSending}>
        {isSending ? "Sending…" : button}
      </Button>
    </form>
  );
}

/** Neighbours of one section together, in the order in which they are asked. */
function sectionsOf(questions: readonly FormQuestion[]) {
  const sections: { section: string | undefined; inside: FormQuestion[] }[] = [];
  for (const question of questions) {
    const last = sections.at(-1);
    if (last !== undefined && last.section === question.section) last.inside.push(question);
    else sections.push({ section: question.section, inside: [question] });
  }
  return sections;
}

interface QuestionProps {
  readonly id: string;
  readonly question: FormQuestion;
  readonly typed: string | undefined;
  readonly error: string | undefined;
}

function Question({
  id,
  question: { name, label, hint, value = "", kind = "text", rows = 3, choices },
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
          <TextArea {...wiring} name={name} defaultValue={given} rows={rows} />
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
