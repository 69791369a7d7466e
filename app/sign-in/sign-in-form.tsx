"use client";

import { useActionState } from "react";
import { Button } from "@/app/_components/button";
import { ErrorSummary } from "@/app/_components/error-summary";
import { Field, TextInput } from "@/app/_components/field";
import { signInAction } from "./actions";
import { untouched } from "./sign-in-state";

/** Works before any script has arrived: it is a plain form whose answer the server renders. */
export function SignInForm() {
  const [state, action, isPending] = useActionState(signInAction, untouched);
  const errorOf = (field: "email" | "password") => state.problems.find((problem) => problem.field === field)?.sentence;
  return (
    <form action={action} noValidate className="space-y-5">
      <ErrorSummary
        attempt={state.attempt}
        problems={state.problems.map(({ field, sentence }) => ({ href: `#${field}`, sentence }))}
      />
      <Field id="email" label="E-mail address" error={errorOf("email")}>
        {(wiring) => (
          <TextInput
            {...wiring}
            // Only a new key makes the browser take the value given back after a failed attempt.
            key={state.attempt}
            name="email"
            type="email"
            autoComplete="username"
            autoCapitalize="none"
            spellCheck={false}
            defaultValue={state.email}
          />
        )}
      </Field>
      <Field id="password" label="Password" error={errorOf("password")}>
        {(wiring) => <TextInput {...wiring} name="password" type="password" autoComplete="current-password" />}
      </Field>
      <Button type="submit" className="w-full" aria-busy={isPending}>
        {isPending ? "Signing in…" : "Sign in"}
      </Button>
    </form>
  );
}
