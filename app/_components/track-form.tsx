"use client";

import { useActionState, useId } from "react";
import { Button } from "./button";
import { ErrorSummary } from "./error-summary";
import { Field, TextInput } from "./field";
import { MoveRefusal } from "./move-refusal";
import { type MoveState, untouched } from "./move-state";
import { refusedField } from "./refused-field";
import { SelectInput } from "./select-input";
import { FlagQuestion } from "./signs-question";

interface TrackFormProps {
  readonly track: "safety" | "custody" | "hold" | "remedy";
  readonly reference: string;
  readonly version: number;
  readonly label: string;
  readonly button: string;
  readonly choices: readonly { readonly value: string; readonly label: string }[];
  readonly action: (before: MoveState, form: FormData) => Promise<MoveState>;
}

/** Where something followed beside the return goes next, and why. */
export function TrackForm({ track, reference, version, label, button, choices, action }: TrackFormProps) {
  const [state, act, isPending] = useActionState(action, untouched);
  const id = useId();
  const typed = state.kind === "refused" ? state.typed : {};
  const asked = track === "custody" ? ["to", "scanned", "agreement", "reason"] : ["to", "reason"];
  const wrong = refusedField(state, asked);
  const errorOf = (name: string) => (wrong?.name === name ? wrong.sentence : undefined);
  return (
    <form action={act} className="space-y-3">
      <ErrorSummary
        attempt={state}
        problems={wrong === null ? [] : [{ href: `#${id}-${wrong.name}`, sentence: wrong.sentence }]}
      />
      <input type="hidden" name="track" value={track} />
      <input type="hidden" name="reference" value={reference} />
      <input type="hidden" name="seenVersion" value={version} />
      <Field id={`${id}-to`} label={label} error={errorOf("to")}>
        {(wiring) => (
          <SelectInput {...wiring} name="to" defaultValue={typed.to ?? ""}>
            <option value="">Choose</option>
            {choices.map(({ value, label: words }) => (
              <option key={value} value={value}>
                {words}
              </option>
            ))}
          </SelectInput>
        )}
      </Field>
      {track === "custody" ? (
        <>
          <Field
            id={`${id}-scanned`}
            label="Scan the label of the pack, or the code of its traveller"
            hint="A scanner that types works here. A pack that is missing needs no scan."
            error={errorOf("scanned")}
          >
            {(wiring) => (
              <TextInput
                {...wiring}
                name="scanned"
                maxLength={300}
                autoComplete="off"
                defaultValue={typed.scanned ?? ""}
              />
            )}
          </Field>
          <label className="flex min-h-11 cursor-pointer items-start gap-3 py-1">
            <input
              type="checkbox"
              name="cannotBeRead"
              value="true"
              defaultChecked={typed.cannotBeRead === "true"}
              className="mt-0.5 size-6 shrink-0 accent-accent"
            />
            <span>The code cannot be read; below I write how I know which pack it is</span>
          </label>
        </>
      ) : null}
      {/* A sample does not come back, so where the pack is still its customer's, who gave it is written down. */}
      {choices.some(({ value }) => value === "supplier") ? (
        <Field
          id={`${id}-agreement`}
          label="To a supplier only: who of the customer agreed, when and how"
          hint="Not needed where the pack was replaced, refunded or is to be disposed of."
          error={errorOf("agreement")}
        >
          {(wiring) => (
            <TextInput
              {...wiring}
              name="agreement"
              dir="auto"
              maxLength={500}
              autoComplete="off"
              defaultValue={typed.agreement ?? ""}
            />
          )}
        </Field>
      ) : null}
      <Field id={`${id}-reason`} label="Why?" error={errorOf("reason")}>
        {(wiring) => (
          <TextInput
            {...wiring}
            name="reason"
            dir="auto"
            maxLength={1000}
            autoComplete="off"
            defaultValue={typed.reason ?? ""}
          />
        )}
      </Field>
      {track === "safety" ? <FlagQuestion /> : null}
      {wrong === null ? <MoveRefusal state={state} /> : null}
      <Button type="submit" weight="second" className="w-full" aria-busy={isPending}>
        {isPending ? "Recording…" : button}
      </Button>
    </form>
  );
}
