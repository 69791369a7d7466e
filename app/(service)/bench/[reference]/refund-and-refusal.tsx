import type { UseFormReturn } from "react-hook-form";
import { Field, TextArea, TextInput } from "@/app/_components/field";
import { SelectInput } from "@/app/_components/select-input";
import { comesBackAnswers, comesBackWords } from "@/lib/returns/comes-back";
import type { Decision, DecisionInput } from "@/lib/returns/decision.schema";
import type { GivenBefore } from "@/lib/returns/given-before";

type DecisionForm = UseFormReturn<DecisionInput, unknown, Decision>;

export function RefundFields({ form }: { form: DecisionForm }) {
  const { register, formState } = form;
  const { errors } = formState;
  return (
    <div className="grid gap-4 sm:grid-cols-[1fr_8rem]">
      <Field id="refund-amount" label="Amount in all, with what was paid before" error={errors.refundMinor?.message}>
        {(wiring) => (
          <TextInput {...register("refundMinor", { shouldUnregister: true })} {...wiring} inputMode="decimal" />
        )}
      </Field>
      <Field id="refund-currency" label="Currency" error={errors.refundCurrency?.message}>
        {(wiring) => (
          <TextInput {...register("refundCurrency", { shouldUnregister: true })} {...wiring} maxLength={3} />
        )}
      </Field>
    </div>
  );
}

/** More beside what the customer has already: what of it comes back is said before, and a second person agrees. */
export function ComesBackField({ form, given }: { form: DecisionForm; given: GivenBefore }) {
  const { register, watch, formState } = form;
  const { errors } = formState;
  const answer = watch("comesBackWhat");
  const what = [
    given.unitSerial === null ? "" : `pack ${given.unitSerial}`,
    given.moneyIn === null ? "" : `money back, in ${given.moneyIn}`,
  ].filter((one) => one !== "");
  return (
    <div className="space-y-4">
      <Field
        id="comes-back-what"
        label="Does any of it come back?"
        hint={`Under this complaint the customer was given ${what.join(" and ")}. A second person approves.`}
        error={errors.comesBackWhat?.message}
      >
        {(wiring) => (
          <SelectInput {...register("comesBackWhat", { shouldUnregister: true })} {...wiring} defaultValue="">
            <option value="">Choose</option>
            {comesBackAnswers.map((one) => (
              <option key={one} value={one}>
                {comesBackWords[one]}
              </option>
            ))}
          </SelectInput>
        )}
      </Field>
      {answer === "comes-back" ? (
        <Field id="comes-back-by" label="By which day" error={errors.comesBackBy?.message}>
          {(wiring) => <TextInput {...register("comesBackBy", { shouldUnregister: true })} {...wiring} type="date" />}
        </Field>
      ) : null}
      <Field
        id="comes-back"
        label={answer === "nothing-comes-back" ? "Why nothing comes back" : "What of it comes back, and how?"}
        hint="The dealer reads it, and it stands in the letter."
        error={errors.comesBack?.message}
      >
        {(wiring) => (
          <TextArea {...register("comesBack", { shouldUnregister: true })} {...wiring} rows={2} dir="auto" />
        )}
      </Field>
    </div>
  );
}

const refusalQuestions = [
  { name: "refusalTerm", id: "refusal-term", label: "Which term of the guarantee does it rely on?" },
  {
    name: "refusalEvidence",
    id: "refusal-evidence",
    label: "What is the evidence: photograph, measurement, line of the log?",
  },
  {
    name: "refusalAlternatives",
    id: "refusal-alternatives",
    label: "Which other explanations were looked at, and why not?",
  },
] as const;

/** A refusal is never automatic and never bare: term, evidence, other explanations, and two people. */
export function RefusalFields({ form, isUnseen }: { form: DecisionForm; isUnseen: boolean }) {
  const { register, formState } = form;
  const { errors } = formState;
  return (
    <div className="space-y-4">
      <p className="font-semibold text-warn">
        This leaves the customer without a remedy: it takes what a refusal takes, and two people.
      </p>
      {refusalQuestions.map(({ name, id, label }) => (
        <Field key={name} id={id} label={label} error={errors[name]?.message}>
          {(wiring) => <TextArea {...register(name, { shouldUnregister: true })} {...wiring} rows={2} dir="auto" />}
        </Field>
      ))}
      {isUnseen ? (
        <Field
          id="refused-unseen"
          label="Why is it refused without photographs and without the pack?"
          hint="The pack was never here, and photographs of the complaint are missing. Better: ask the dealer for them, or call the pack in."
          error={errors.refusedUnseenBecause?.message}
        >
          {(wiring) => (
            <TextArea
              {...register("refusedUnseenBecause", { shouldUnregister: true })}
              {...wiring}
              rows={2}
              dir="auto"
            />
          )}
        </Field>
      ) : null}
      <p className="text-soft">
        The dealer is told how to object, and that legal rights against the seller are not affected.
      </p>
    </div>
  );
}
