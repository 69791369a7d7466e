import { zodResolver } from "@hookform/resolvers/zod";
import { useEffect, useRef, useState } from "react";
import { useForm } from "react-hook-form";
import { type MoveState, refused, untouched } from "@/app/_components/move-state";
import { type Decision, type DecisionInput, decisionSchema } from "@/lib/returns/decision.schema";
import type { ProposalQuestion } from "@/lib/returns/proposal-refused-at";
import type { StatedFacts } from "@/lib/returns/return-facts";
import { proposeAction } from "./actions";

const notSent: MoveState = refused(
  "This could not be sent: the connection or our server failed. What you wrote is still here; send it again.",
);

/** What is stated beside the decision is no field of its form; what is wrong with it is kept at the root, which each sending clears. */
function placeOf(question: ProposalQuestion) {
  return question === "tests" || question === "testsWaivedBecause" ? (`root.${question}` as const) : question;
}

/** The decision form and its sending, once at a time. The version sent is always the one on screen. */
export function useDecide(reference: string, version: number, stated: StatedFacts) {
  const form = useForm<DecisionInput, unknown, Decision>({
    resolver: zodResolver(decisionSchema),
    defaultValues: { reason: "", seenVersion: version },
    shouldFocusError: false,
  });
  const { setValue } = form;
  const isUnderWay = useRef(false);
  const [isSending, setIsSending] = useState(false);
  const [state, setState] = useState(untouched);

  // The page may be read anew under the form; what was typed stays, and counts for what is shown now.
  useEffect(() => setValue("seenVersion", version), [setValue, version]);

  async function sendOnce(decision: Decision) {
    if (isUnderWay.current) return;
    isUnderWay.current = true;
    setIsSending(true);
    try {
      const { state: answered, at } = await proposeAction({ reference, decision, stated });
      if (answered.kind === "refused" && at !== null) {
        form.setError(placeOf(at), { type: "server", message: answered.sentence });
        setState(untouched);
      } else setState(answered);
    } catch (error) {
      console.warn("Sending failed", error);
      setState(notSent);
    } finally {
      isUnderWay.current = false;
      setIsSending(false);
    }
  }

  return { form, state, isSending, send: form.handleSubmit(sendOnce) };
}
