import { useWatch } from "react-hook-form";
import { Button } from "@/app/_components/button";
import { dangerOf } from "@/lib/returns/danger-signs";
import type { LodgeReturnInput } from "@/lib/returns/lodge-return.schema";
import type { KnownPack, StepName } from "./steps";

interface GoOnButtonProps {
  readonly step: StepName;
  readonly pack: KnownPack | null;
  readonly isFinding: boolean;
  readonly isSending: boolean;
}

/** Never disabled: a person who presses it too early learns what is missing. */
export function GoOnButton({ step, pack, isFinding, isSending }: GoOnButtonProps) {
  const signs = useWatch<LodgeReturnInput, "dangerSigns">({ name: "dangerSigns" });
  return (
    <Button type="submit" className="w-full sm:w-auto sm:min-w-48" aria-busy={isFinding || isSending}>
      <span aria-live="polite">{words()}</span>
    </Button>
  );

  function words(): string {
    if (step === "danger" && dangerOf(signs).kind !== "none") return "Continue, now that it is safe";
    if (step === "serial" && isFinding) return "Looking it up…";
    if (step === "serial" && pack === null) return "Find this pack";
    if (step === "serial") return "This is the pack: continue";
    if (step === "check") return isSending ? "Sending…" : "Send this return";
    return "Continue";
  }
}
