import type { ReactNode } from "react";
import { useWatch } from "react-hook-form";
import { writtenDay } from "@/app/_components/calendar-day";
import { SerialText } from "@/app/_components/serial-text";
import type { PackCard } from "@/lib/data/packs/packs";
import { listed } from "@/lib/diagnosis/wording";
import { conditionLabels } from "@/lib/returns/conditions";
import { dangerLabels } from "@/lib/returns/danger-signs";
import type { LodgeReturnInput } from "@/lib/returns/lodge-return.schema";
import { noFileReasonLabels } from "@/lib/returns/no-file-reasons";
import { saleEvidenceLabels } from "@/lib/returns/sale-evidence";
import { symptomLabels } from "@/lib/returns/symptoms";
import type { KeptReading } from "./draft";
import { type StepName, stepsFor } from "./steps";
import { addressOf } from "./use-step";

interface CheckAnswersProps {
  readonly pack: PackCard | null;
  readonly reading: KeptReading | null;
  readonly onGo: (step: StepName, then: "check") => void;
}

/** All answers as they will be sent, each with the way back to its question. */
export function CheckAnswers({ pack, reading, onGo }: CheckAnswersProps) {
  const answers = useWatch<LodgeReturnInput>();
  const rows: Readonly<Record<Exclude<StepName, "check">, { term: string; detail: ReactNode }>> = {
    danger: { term: "Danger signs", detail: listed((answers.dangerSigns ?? []).map((sign) => dangerLabels[sign])) },
    serial: {
      term: "Pack",
      detail: (
        <>
          {pack?.modelName} <SerialText>{pack?.serialShown ?? answers.serial ?? ""}</SerialText>
        </>
      ),
    },
    sale: {
      term: "Customer got it on",
      detail: answers.soldOnStated
        ? `${writtenDay(answers.soldOnStated)}${answers.soldOnEvidence ? ` (${saleEvidenceLabels[answers.soldOnEvidence]})` : ""}`
        : "Nobody knows",
    },
    dates: {
      term: "Told and noticed",
      detail: `Told you on ${writtenDay(answers.toldOn ?? "")}, noticed on ${writtenDay(answers.noticedOn ?? "")}`,
    },
    words: {
      term: "Customer's words",
      detail: (
        <span dir="auto" className="block whitespace-pre-line">
          {answers.concern}
        </span>
      ),
    },
    symptom: { term: "What it does", detail: answers.symptom ? symptomLabels[answers.symptom] : "" },
    conditions: {
      term: "When it happens",
      detail: listed((answers.conditions ?? []).map((condition) => conditionLabels[condition])) || "Nobody knows",
    },
    readings: {
      term: "Readings",
      detail: reading?.summary.fileName ?? (answers.noFileReason ? noFileReasonLabels[answers.noFileReason] : ""),
    },
  };
  return (
    <>
      <dl className="card">
        {stepsFor(pack).map((step) =>
          step === "check" ? null : (
            <div
              key={step}
              className="grid grid-cols-[1fr_auto] gap-x-3 border-b border-rule px-3 py-2 last:border-b-0"
            >
              <dt className="caption-print">{rows[step].term}</dt>
              <dd className="col-start-1 min-w-0 break-words">{rows[step].detail}</dd>
              <dd className="col-start-2 row-span-2 row-start-1">
                <a
                  href={addressOf(step, "check")}
                  onClick={(event) => {
                    event.preventDefault();
                    onGo(step, "check");
                  }}
                  className="inline-flex min-h-11 items-center px-2 font-semibold text-accent underline underline-offset-4"
                >
                  Change<span className="sr-only"> {rows[step].term.toLowerCase()}</span>
                </a>
              </dd>
            </div>
          ),
        )}
      </dl>
      <p>By sending you say that this is what the customer told you and what you saw yourself.</p>
    </>
  );
}
