import type { ReactNode } from "react";
import { Field, TextInput } from "@/app/_components/field";
import { useAnswerForm } from "./use-answer-form";

interface DateFieldProps {
  readonly answer: "toldOn" | "noticedOn" | "soldOnStated";
  readonly label: string;
  readonly hint: ReactNode;
  /** The latest day that can be; the picker starts there. The rules check it again. */
  readonly today: string | undefined;
}

/** The browser's own date picker: each person sees the order of day and month they are used to, we get YYYY-MM-DD. */
export function DateField({ answer, label, hint, today }: DateFieldProps) {
  const { register, errorOf } = useAnswerForm();
  return (
    <Field id={answer} label={label} hint={hint} error={errorOf(answer)}>
      {(wiring) => <TextInput {...register(answer)} {...wiring} type="date" max={today} className="max-w-56" />}
    </Field>
  );
}
