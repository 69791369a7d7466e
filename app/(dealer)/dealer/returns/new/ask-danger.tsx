import { OctagonAlert } from "lucide-react";
import { useWatch } from "react-hook-form";
import { ChoiceList } from "@/app/_components/choice-list";
import { HandlingCard } from "@/app/_handling/handling-card";
import { dangerAnswers, dangerLabels, dangerOf } from "@/lib/returns/danger-signs";
import type { LodgeReturnInput } from "@/lib/returns/lodge-return.schema";
import type { DealerScripts } from "@/lib/transport/dealer-script";
import { useAnswerForm } from "./use-answer-form";

interface AskDangerProps {
  readonly scripts: DealerScripts;
  /** The device keeps the answers, and the maker has not got them. */
  readonly isUntold: boolean;
}

export function AskDanger({ scripts, isUntold }: AskDangerProps) {
  const { register, errorOf, questionOf } = useAnswerForm();
  const danger = dangerOf(useWatch<LodgeReturnInput, "dangerSigns">({ name: "dangerSigns" }));
  const script = scripts[danger.kind];
  return (
    <>
      <ChoiceList
        id="dangerSigns"
        type="checkbox"
        legend={questionOf("dangerSigns")}
        legendLook="hidden"
        hint="Look at the pack from where you stand; do not lift it to find out. Choose everything that applies."
        error={errorOf("dangerSigns")}
        choices={dangerAnswers.map((value) => ({ value, label: dangerLabels[value] }))}
        apart="none-of-these"
        control={register("dangerSigns")}
      />
      {/* Stays in view from the first sign on: the list is longer than a telephone, and the card stands below it. */}
      <div role="status" className="sticky bottom-0 z-10">
        {danger.kind === "none" ? null : (
          <button
            type="button"
            onClick={showHandling}
            className="block w-full cursor-pointer border-2 border-danger bg-danger-paper text-left text-lg font-bold text-danger"
          >
            <span aria-hidden className="tape block" />
            <span className="flex min-h-12 items-center gap-2 px-4 py-2">
              <OctagonAlert aria-hidden className="shrink-0" />
              <span>
                {script.headline}. {isUntold ? "The maker does not know yet: call. " : null}
                <span className="underline underline-offset-4">What to do</span>
              </span>
            </span>
          </button>
        )}
      </div>
      {danger.kind === "none" ? null : <HandlingCard script={script} isDanger isUntold={isUntold} />}
    </>
  );
}

function showHandling() {
  const title = document.getElementById("handling-title");
  title?.focus({ preventScroll: true });
  title?.scrollIntoView({ block: "start" });
}
