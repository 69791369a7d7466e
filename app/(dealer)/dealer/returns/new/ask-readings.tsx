import { useState } from "react";
import { useWatch } from "react-hook-form";
import { Button } from "@/app/_components/button";
import { ChoiceList } from "@/app/_components/choice-list";
import { Notice } from "@/app/_components/notice";
import { ReadingInPlainWords } from "@/app/_readings/reading-in-plain-words";
import { ReadingUpload } from "@/app/_readings/reading-upload";
import { takeFileOut } from "@/app/_readings/send-reading-file";
import type { PackCard } from "@/lib/data/packs/packs";
import { dangerOf } from "@/lib/returns/danger-signs";
import type { LodgeReturnInput } from "@/lib/returns/lodge-return.schema";
import { noFileReasonLabels, noFileReasons } from "@/lib/returns/no-file-reasons";
import type { KeptReading } from "./draft";
import { useAnswerForm } from "./use-answer-form";

interface AskReadingsProps {
  readonly pack: PackCard;
  readonly reading: KeptReading | null;
  readonly onReading: (reading: KeptReading | null) => void;
}

export function AskReadings({ pack, reading, onReading }: AskReadingsProps) {
  const { register, setValue, clearErrors, errorOf } = useAnswerForm();
  const [againOf, setAgainOf] = useState<KeptReading | null>(null);
  const [takenOut, setTakenOut] = useState<string | null>(null);
  const danger = dangerOf(useWatch<LodgeReturnInput, "dangerSigns">({ name: "dangerSigns" }));

  function take(taken: KeptReading | null) {
    setValue("readingFileId", taken?.summary.id ?? "");
    if (taken !== null) setValue("noFileReason", "");
    clearErrors(["readingFileId", "noFileReason"]);
    onReading(taken);
  }

  return (
    <>
      {danger.kind === "none" ? null : (
        <Notice kind="danger" title="Do not connect anything to this pack">
          <p>You chose a danger sign. Add a file only if it was saved before; otherwise choose the reason below.</p>
        </Notice>
      )}
      {reading === null ? (
        <>
          <p role="status" className="break-words">
            {takenOut === null
              ? ""
              : `${takenOut} was taken out: what it showed no longer counts here. That it was read stays on record.`}
          </p>
          <ReadingUpload
            serial={pack.serial}
            error={errorOf("readingFileId")}
            onRead={(taken) => {
              setAgainOf(null);
              take(taken);
            }}
            againOf={againOf}
          />
          <ChoiceList
            id="noFileReason"
            type="radio"
            legend="No file? Why not?"
            error={errorOf("noFileReason")}
            choices={noFileReasons.map((value) => ({ value, label: noFileReasonLabels[value] }))}
            control={register("noFileReason")}
          />
        </>
      ) : (
        <section aria-label="What the file shows" className="card space-y-4 p-4">
          <ReadingInPlainWords summary={reading.summary} />
          {errorOf("readingFileId") === undefined ? null : (
            <p id="readingFileId" className="font-semibold text-danger">
              Error: {errorOf("readingFileId")}
            </p>
          )}
          <Button
            weight="second"
            onClick={() => {
              setAgainOf(null);
              setTakenOut(reading.summary.fileName);
              takeFileOut(reading.summary.id);
              take(null);
            }}
          >
            Take this file out
          </Button>{" "}
          <Button
            weight="plain"
            onClick={() => {
              setAgainOf(reading);
              take(null);
            }}
          >
            Change how its columns are read
          </Button>
        </section>
      )}
    </>
  );
}
