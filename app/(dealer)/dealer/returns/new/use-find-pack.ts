import { useEffect, useRef, useState } from "react";
import { type UseFormReturn, useWatch } from "react-hook-form";
import type { PackCard } from "@/lib/data/packs/packs";
import { readSerial } from "@/lib/packs/serial";
import type { LodgeReturn, LodgeReturnInput } from "@/lib/returns/lodge-return.schema";
import { lookUpSerialAction } from "./actions";

type ReturnFormControl = UseFormReturn<LodgeReturnInput, unknown, LodgeReturn>;

const unreachable =
  "The pack could not be looked up: the connection or our server failed. Your answers are kept; try again.";

/**
 * The pack the typed serial belongs to. It counts only while the serial stands as it was looked up; another pack takes
 * the readings file of the one before with it, because a file belongs to one pack.
 */
export function useFindPack(form: ReturnFormControl, onOtherPack: () => void) {
  const typed = useWatch({ control: form.control, name: "serial" });
  const [found, setFound] = useState<PackCard | null>(null);
  const [isFinding, setIsFinding] = useState(false);
  const [isResuming, setIsResuming] = useState(() => serialIn(form.getValues("serial")) !== null);
  const isUnderWay = useRef(false);
  const shownSerial = useRef(serialIn(form.getValues("serial")));

  async function find() {
    // A second tap while the first is under way would only count as another look-up.
    if (isUnderWay.current) return;
    isUnderWay.current = true;
    setIsFinding(true);
    try {
      const answer = await lookUpSerialAction(form.getValues("serial"));
      switch (answer.kind) {
        case "found":
          return take(answer.pack);
        case "not-a-serial":
        case "unknown-serial":
        case "too-many-look-ups":
          return form.setError("serial", { type: answer.kind, message: answer.sentence });
        default: {
          const never: never = answer;
          return never;
        }
      }
    } catch (error) {
      console.warn("Looking up the serial failed", error);
      form.setError("serial", { type: "unreachable", message: unreachable });
    } finally {
      isUnderWay.current = false;
      setIsFinding(false);
    }
  }

  function take(pack: PackCard) {
    if (shownSerial.current !== null && shownSerial.current !== pack.serial) {
      form.setValue("readingFileId", "");
      onOtherPack();
    }
    shownSerial.current = pack.serial;
    if (pack.saleKnown) {
      form.setValue("soldOnStated", "");
      form.setValue("soldOnEvidence", "");
    }
    form.clearErrors("serial");
    setFound(pack);
  }

  // biome-ignore lint/correctness/useExhaustiveDependencies: once, for answers kept from before; all later look-ups start from a press
  useEffect(() => {
    if (isResuming) find().finally(() => setIsResuming(false));
  }, []);

  const pack = found !== null && serialIn(typed) === found.serial ? found : null;
  return { pack, find, isFinding, isResuming };
}

function serialIn(typed: string): string | null {
  const reading = readSerial(typed);
  return reading.kind === "serial" ? reading.serial : null;
}
