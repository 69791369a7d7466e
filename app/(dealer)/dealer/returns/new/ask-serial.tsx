import { useEffect, useRef } from "react";
import { useWatch } from "react-hook-form";
import { Button } from "@/app/_components/button";
import { writtenDay } from "@/app/_components/calendar-day";
import { ChoiceList } from "@/app/_components/choice-list";
import { Field, TextInput } from "@/app/_components/field";
import { Notice } from "@/app/_components/notice";
import type { PackCard } from "@/lib/data/packs/packs";
import { groupSerial, readSerial } from "@/lib/packs/serial";
import { dangerOf } from "@/lib/returns/danger-signs";
import type { LodgeReturnInput } from "@/lib/returns/lodge-return.schema";
import { replacedReasonLabels, replacedReasons } from "@/lib/returns/replaced-pack";
import { PackCardView } from "./pack-card";
import { ScanLabel } from "./scan-label";
import { useAnswerForm } from "./use-answer-form";

export function AskSerial({ pack, onFind }: { pack: PackCard | null; onFind: () => void }) {
  const { register, setValue, clearErrors, errorOf } = useAnswerForm();
  const typed = useWatch<LodgeReturnInput, "serial">({ name: "serial" });
  const danger = dangerOf(useWatch<LodgeReturnInput, "dangerSigns">({ name: "dangerSigns" }));
  const error = errorOf("serial");
  const reading = readSerial(typed);
  const shownPack = useRef(pack);

  // Only for a pack found just now: who comes back to this question stays at the question.
  useEffect(() => {
    if (pack !== null && shownPack.current === null) document.getElementById("pack-title")?.focus();
    shownPack.current = pack;
  }, [pack]);

  // Offered, never taken: only the person who sees the label can tell which one it is.
  const likely = error !== undefined && reading.kind === "check-failed" ? reading.likely : [];

  function choose(serial: string) {
    setValue("serial", serial);
    clearErrors("serial");
    onFind();
  }

  return (
    <>
      {danger.kind === "none" || pack !== null ? null : (
        <Notice kind="danger" title="Do not go near the pack to read its label">
          <p>
            Take the serial from papers, or from a photograph taken before. Where nobody has it: the maker is told of
            the danger also without it, as soon as these answers are kept for your workshop. Go on when it is safe.
          </p>
        </Notice>
      )}
      <Field
        id="serial"
        label="Serial number"
        hint="On the label of the pack, for example TR-2417-0392-7. Small or capital letters, with or without hyphens."
        error={error}
      >
        {(wiring) => (
          <TextInput
            {...register("serial")}
            {...wiring}
            autoComplete="off"
            autoCapitalize="characters"
            autoCorrect="off"
            spellCheck={false}
            enterKeyHint="search"
            className="font-mono text-xl"
          />
        )}
      </Field>
      {likely.length === 0 ? null : (
        <div>
          <p className="font-semibold">Is it one of these? Compare with the label.</p>
          <div className="mt-2 flex flex-wrap gap-2">
            {likely.map((serial) => (
              <Button key={serial} weight="second" className="font-mono" onClick={() => choose(serial)}>
                {groupSerial(serial)}
              </Button>
            ))}
          </div>
        </div>
      )}
      <ScanLabel onScanned={choose} />
      {pack === null ? null : <PackCardView pack={pack} />}
      {pack === null || pack.replacedOn === null ? null : (
        <ChoiceList
          id="replacedBecause"
          type="radio"
          legend="Why is this pack here, although it was replaced?"
          hint={`Another pack was handed over in its place on ${writtenDay(pack.replacedOn)}. If the complaint is about that one, type its serial instead.`}
          error={errorOf("replacedBecause")}
          choices={replacedReasons.map((value) => ({ value, label: replacedReasonLabels[value] }))}
          control={register("replacedBecause")}
        />
      )}
    </>
  );
}
