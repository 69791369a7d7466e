import { useRouter } from "next/navigation";
import { useCallback, useRef, useState } from "react";
import type { UseFormReturn } from "react-hook-form";
import type { LodgeReturn, LodgeReturnInput } from "@/lib/returns/lodge-return.schema";
import { lodgeReturnAction } from "./actions";
import { forgetDraft } from "./draft";

const notSent =
  "This could not be sent: the connection or our server failed. Your answers are kept on this device. Send again when you can; nothing is lodged twice.";

/** Sending, once: taps while it is under way do nothing, and a retry carries the same key. */
export function useSend(form: UseFormReturn<LodgeReturnInput, unknown, LodgeReturn>, owner: string) {
  const router = useRouter();
  const state = useRef<"open" | "sending" | "sent">("open");
  const [isSending, setIsSending] = useState(false);
  const [failure, setFailure] = useState<string | null>(null);
  const isSent = useCallback(() => state.current === "sent", []);

  async function sendOnce() {
    if (state.current !== "open") return;
    state.current = "sending";
    setIsSending(true);
    setFailure(null);
    try {
      const answer = await lodgeReturnAction(form.getValues());
      if (answer.ok) {
        state.current = "sent";
        forgetDraft(owner);
        return router.replace(`/dealer/returns/${encodeURIComponent(answer.reference)}`);
      }
      for (const { field, sentence } of answer.problems) form.setError(field, { type: "server", message: sentence });
    } catch (error) {
      console.warn("Sending failed", error);
      setFailure(notSent);
    } finally {
      if (state.current === "sending") {
        state.current = "open";
        setIsSending(false);
      }
    }
  }

  return { send: form.handleSubmit(sendOnce), isSending, failure, isSent };
}
