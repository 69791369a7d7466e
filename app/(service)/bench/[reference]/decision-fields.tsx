import type { UseFormReturn } from "react-hook-form";
import { Button } from "@/app/_components/button";
import { ChoiceList } from "@/app/_components/choice-list";
import { Field, TextArea } from "@/app/_components/field";
import { SelectInput } from "@/app/_components/select-input";
import {
  confirmedFaults,
  type Decision,
  type DecisionInput,
  deniesRemedy,
  remediesOffered,
  remedyLabels,
  sayConfirmedFault,
} from "@/lib/returns/decision.schema";
import { type GivenBefore, givesBeside } from "@/lib/returns/given-before";
import { ComesBackField, RefundFields, RefusalFields } from "./refund-and-refusal";

export interface DecisionFieldsProps {
  readonly form: UseFormReturn<DecisionInput, unknown, Decision>;
  readonly isSending?: boolean;
  /** Nobody has tested the pack yet, and it is not what comes next: only what needs no test is offered. */
  readonly isUntested: boolean;
  /** The dealer said that the help from a distance solved it. */
  readonly isSolvedThere: boolean;
  /** Revisions that may replace the pack today. */
  readonly replacements: readonly { readonly revisionCode: string; readonly note: string }[];
  readonly whyNoReplacement: string | null;
  /** What to mind with a repair of a pack built like this; null where nothing. */
  readonly repairNote: string | null;
  /** What the customer was given under this complaint before. */
  readonly given: GivenBefore;
  /** The pack was never here and photographs of the complaint are missing: a refusal says why it does without. */
  readonly isUnseen: boolean;
}

export function DecisionFields({
  form,
  isSending,
  isUntested,
  isSolvedThere,
  replacements,
  whyNoReplacement,
  repairNote,
  given,
  isUnseen,
}: DecisionFieldsProps) {
  const { register, watch, formState } = form;
  const { errors } = formState;
  const remedy = watch("remedy");
  const confirmedFault = watch("confirmedFault");
  return (
    <>
      <ChoiceList
        id="remedy"
        type="radio"
        legend="What is to be done?"
        error={errors.remedy?.message}
        choices={remediesOffered(isUntested, isSolvedThere).map((value) => ({ value, label: remedyLabels[value] }))}
        control={register("remedy")}
      />
      {remedy === "repair" && repairNote !== null ? <p className="font-semibold text-warn">{repairNote}</p> : null}
      {remedy !== "replace" ? null : whyNoReplacement !== null ? (
        <p id="replacement" tabIndex={-1} className="font-semibold text-warn">
          {whyNoReplacement}
        </p>
      ) : (
        <ChoiceList
          id="replacement"
          type="radio"
          legend="With which revision?"
          error={errors.replacementRevisionCode?.message}
          choices={replacements.map(({ revisionCode, note }) => ({
            value: revisionCode,
            label: `${revisionCode}: ${note}`,
          }))}
          control={register("replacementRevisionCode", { shouldUnregister: true })}
        />
      )}
      {remedy === "refund" ? <RefundFields form={form} /> : null}
      {givesBeside(remedy, given) ? <ComesBackField form={form} given={given} /> : null}
      <Field
        id="confirmed-fault"
        label="Which fault was found?"
        hint="What you saw or measured, not what the readings suggest. It decides whether the pack counts as failed."
        error={errors.confirmedFault?.message}
      >
        {(wiring) => (
          <SelectInput {...register("confirmedFault")} {...wiring} defaultValue="">
            <option value="" disabled>
              Choose
            </option>
            {confirmedFaults.map((fault) => (
              <option key={fault} value={fault}>
                {sayConfirmedFault(fault)}
              </option>
            ))}
          </SelectInput>
        )}
      </Field>
      {deniesRemedy({ remedy, confirmedFault }) ? (
        <RefusalFields form={form} isUnseen={isUnseen && remedy !== "dispose"} />
      ) : null}
      <Field
        id="reason"
        label="Why?"
        hint="The dealer reads this too: what was found, and why this follows from it."
        error={errors.reason?.message}
      >
        {(wiring) => <TextArea {...register("reason")} {...wiring} rows={4} dir="auto" />}
      </Field>
      <label className="flex min-h-11 cursor-pointer items-start gap-3">
        <input type="checkbox" {...register("isGoodwill")} className="mt-0.5 size-6 shrink-0 accent-accent" />
        <span>Goodwill: it is given although it is not owed</span>
      </label>
      <Button type="submit" className="w-full" aria-busy={isSending}>
        {isSending ? "Recording…" : "Propose this decision"}
      </Button>
      <p className="text-soft">
        Somebody else approves it: the service lead, and a second person where the rules ask for one.
      </p>
    </>
  );
}
