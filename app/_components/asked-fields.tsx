"use client";

import type { ComponentProps, ReactNode } from "react";
import { ChoiceList } from "./choice-list";
import { Field, type FieldWiring, TextArea, TextInput } from "./field";
import { useRefusalAt } from "./refused-fields";
import { SelectInput } from "./select-input";

// Questions of a form that is answered as one (`AnswerForm`): each shows at itself what the answer says of it, by its name.

interface Asked {
  /** Name the answer is sent under, and what a refusal calls the question. */
  readonly name: string;
  /** Of the control, where the name alone is not alone on the page. */
  readonly id?: string | undefined;
  readonly label: string;
  readonly hint?: ReactNode;
}

interface AskedFieldProps extends Asked {
  readonly children: (wiring: FieldWiring) => ReactNode;
}

export function AskedField({ name, id = name, label, hint, children }: AskedFieldProps) {
  return (
    <Field id={id} label={label} hint={hint} error={useRefusalAt(name)}>
      {children}
    </Field>
  );
}

export function AskedText({ name, id, label, hint, ...rest }: Asked & Omit<ComponentProps<"input">, "name" | "id">) {
  return (
    <AskedField name={name} id={id} label={label} hint={hint}>
      {(wiring) => <TextInput {...wiring} {...rest} name={name} />}
    </AskedField>
  );
}

export function AskedLong({ name, id, label, hint, ...rest }: Asked & Omit<ComponentProps<"textarea">, "name" | "id">) {
  return (
    <AskedField name={name} id={id} label={label} hint={hint}>
      {(wiring) => <TextArea {...wiring} {...rest} name={name} />}
    </AskedField>
  );
}

/** The options come as its children. */
export function AskedSelect({
  name,
  id,
  label,
  hint,
  children,
  ...rest
}: Asked & Omit<ComponentProps<typeof SelectInput>, "name" | "id">) {
  return (
    <AskedField name={name} id={id} label={label} hint={hint}>
      {(wiring) => (
        <SelectInput {...wiring} {...rest} name={name}>
          {children}
        </SelectInput>
      )}
    </AskedField>
  );
}

/** A list of choices; its control is named, and the refusal looked up, by the same name. */
export function AskedChoices({
  name,
  control = {},
  ...rest
}: Omit<ComponentProps<typeof ChoiceList>, "control" | "error"> & {
  readonly name: string;
  readonly control?: ComponentProps<"input">;
}) {
  return <ChoiceList {...rest} error={useRefusalAt(name)} control={{ ...control, name }} />;
}
