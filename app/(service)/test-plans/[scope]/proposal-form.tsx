"use client";

import { useActionState } from "react";
import { Button } from "@/app/_components/button";
import { ErrorSummary } from "@/app/_components/error-summary";
import { Field, TextArea } from "@/app/_components/field";
import { untouchedForm } from "@/app/_components/form-answer";
import { newTestSlots } from "@/lib/bench-tests/new-test";
import type { TestDefinition } from "@/lib/bench-tests/test-definition.schema";
import { proposePlanAction } from "../actions";
import { NewTestFields } from "./new-test-fields";
import { TestFields } from "./test-fields";

interface ProposalFormProps {
  readonly scope: string;
  readonly onVersion: number;
  readonly tests: readonly TestDefinition[];
}

/** A whole version in one form, so that several changes are judged together and approved once. */
export function ProposalForm({ scope, onVersion, tests }: ProposalFormProps) {
  const [state, send, isSending] = useActionState(proposePlanAction, untouchedForm);
  const refused = state.kind === "refused" ? state : null;
  const errorOf = (field: string) => refused?.problems.find((problem) => problem.field === field)?.sentence;
  return (
    <form action={send} className="space-y-4" key={refused?.attempt ?? state.kind}>
      <ErrorSummary
        attempt={refused?.attempt ?? 0}
        problems={(refused?.problems ?? []).map(({ field, sentence }) => ({ href: `#${field}`, sentence }))}
      />
      {state.kind === "done" ? (
        <p role="status" className="font-semibold text-good">
          {state.sentence}
        </p>
      ) : null}
      <input type="hidden" name="scope" value={scope} />
      <input type="hidden" name="onVersion" value={onVersion} />
      {tests.map((test) => (
        <TestFields key={test.key} test={test} typed={refused?.typed ?? null} errorOf={errorOf} />
      ))}
      {newTestSlots.map((slot) => (
        <NewTestFields key={slot} slot={slot} tests={tests} typed={refused?.typed ?? null} errorOf={errorOf} />
      ))}
      <Field id="why" label="Why" hint="The approver has only this." error={errorOf("why")}>
        {(wiring) => <TextArea {...wiring} name="why" rows={3} defaultValue={refused?.typed.why ?? ""} />}
      </Field>
      <Button type="submit" aria-busy={isSending}>
        {isSending ? "Sending…" : "Propose this version"}
      </Button>
    </form>
  );
}
