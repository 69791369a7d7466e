import { zodResolver } from "@hookform/resolvers/zod";
import { useEffect, useRef, useState } from "react";
import { useForm } from "react-hook-form";
import { type Decision, type DecisionInput, decisionSchema } from "@/lib/returns/decision.schema";
import { decideReturnAction } from "./actions";
import { type MoveState, untouched } from "./move-state";

const notSent: MoveState = {
  kind: "refused",
  sentence: "This could not be sent: the connection or our server failed. What you wrote is still here; send it again.",
  changes: [],
};

/** The decision form and its sending, once at a time. The version sent is always the one on screen. */
export function useDecide(reference: string, version: number) {
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
      setState(await decideReturnAction({ reference, decision }));
    } catch (error) {
      console.warn("Sending failed", error);
      setState(notSent);
    } finally {
      isUnderWay.current = false;
      setIsSending(false);
    }
  }

  return { form, state, isSending, send: form.handleSubmit(sendOnce), forget: () => setState(untouched) };
}
