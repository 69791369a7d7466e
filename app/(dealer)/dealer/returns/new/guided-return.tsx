"use client";

import { zodResolver } from "@hookform/resolvers/zod";
import { type FormEvent, useEffect, useState } from "react";
import { FormProvider, useForm } from "react-hook-form";
import { dangerOf } from "@/lib/returns/danger-signs";
import { type LodgeReturn, type LodgeReturnInput, lodgeReturnSchema } from "@/lib/returns/lodge-return.schema";
import type { DealerScripts } from "@/lib/transport/dealer-script";
import { dateProblems } from "./date-problems";
import type { Draft, KeptReading } from "./draft";
import { GoOnButton } from "./go-on-button";
import { isUntold, KeepingLine } from "./keeping-line";
import { NotSent } from "./not-sent";
import { StartOver } from "./start-over";
import { StepBody } from "./step-body";
import { StepHead } from "./step-head";
import { answersAskedAt, firstOpenStep, reachableStep, stepAfter } from "./steps";
import { useFindPack } from "./use-find-pack";
import { useKeptDraft } from "./use-kept-draft";
import { useSend } from "./use-send";
import { useStep } from "./use-step";

interface GuidedReturnProps {
  readonly owner: string;
  readonly draft: Draft;
  readonly scripts: DealerScripts;
}

/** The form a dealer lodges a return with: one question a page, everything kept on the device until it was sent. */
export function GuidedReturn({ owner, draft, scripts }: GuidedReturnProps) {
  const form = useForm<LodgeReturnInput, unknown, LodgeReturn>({
    resolver: zodResolver(lodgeReturnSchema),
    defaultValues: draft.answers,
    shouldFocusError: false,
  });
  const [reading, setReading] = useState<KeptReading | null>(draft.reading);
  const [attempt, setAttempt] = useState(0);
  const address = useStep();
  const { pack, ...finder } = useFindPack(form, () => setReading(null));
  const { isSent, ...sender } = useSend(form, owner);

  const { keeping, keep, goOnFrom } = useKeptDraft(owner, draft, isSent);
  const isDanger = dangerOf(form.watch("dangerSigns")).kind !== "none";

  useEffect(() => {
    keep(form.getValues(), reading);
    return form.subscribe({ formState: { values: true }, callback: ({ values }) => keep(values, reading) });
  }, [form, reading, keep]);

  if (finder.isResuming) return <p className="text-soft">Finding the pack again…</p>;
  const step = reachableStep(address.asked, form.getValues(), pack);

  async function goOn(event: FormEvent) {
    event.preventDefault();
    const asked = answersAskedAt(step);
    if (step === "check") await sender.send();
    else if (await form.trigger([...asked])) {
      // The first press finds the pack and shows it, the second says that it is the right one.
      if (step === "serial" && pack === null) await finder.find();
      else {
        const problems = dateProblems(form.getValues(), pack, asked);
        for (const { field, sentence } of problems) form.setError(field, { type: "order", message: sentence });
        if (problems.length === 0) {
          return address.go(address.returnsToCheck ? firstOpenStep(form.getValues(), pack) : stepAfter(step, pack));
        }
      }
    }
    setAttempt((before) => before + 1);
  }

  return (
    <FormProvider {...form}>
      <form onSubmit={goOn} noValidate className="space-y-6">
        <StepHead step={step} pack={pack} attempt={attempt} onBack={address.back} onGo={address.go} />
        <StepBody
          scripts={scripts}
          isUntold={isUntold(keeping)}
          step={step}
          pack={pack}
          reading={reading}
          onReading={setReading}
          onFind={finder.find}
          onGo={address.go}
        />
        <NotSent failure={sender.failure} />
        <GoOnButton step={step} pack={pack} isFinding={finder.isFinding} isSending={sender.isSending} />
        <KeepingLine
          keeping={keeping}
          isDanger={isDanger}
          clientKey={form.getValues("clientKey")}
          onGoOn={(version) => {
            goOnFrom(version);
            keep(form.getValues(), reading);
          }}
        />
        {step === "check" ? <StartOver owner={owner} clientKey={form.getValues("clientKey")} /> : null}
      </form>
    </FormProvider>
  );
}
