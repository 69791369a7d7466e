import { useCallback, useEffect, useRef, useState } from "react";
import type { LodgeReturnInput } from "@/lib/returns/lodge-return.schema";
import { keepDraftAction } from "./actions";
import { type KeptReading, keyOfOwner, saveDraft } from "./draft";

/** Long enough that a sentence is typed in one go, short enough that a telephone put away loses little. Own choice. */
const QUIET_MS = 1500;

export type Keeping =
  | "nothing-yet"
  | "for-the-workshop"
  | "on-this-device"
  | "someone-went-on"
  | "in-another-tab"
  | "sent-already";

interface KeptDraft {
  readonly keeping: Keeping;
  readonly keep: (answers: LodgeReturnInput, reading: KeptReading | null) => void;
  /** Goes on from the version of the other device, with the answers of this one. */
  readonly goOnFrom: (version: number) => void;
}

/**
 * Keeps the answers on this device at once and for the whole workshop after a short quiet. Where the server cannot be
 * reached the device keeps them, and the next change tries again.
 */
export function useKeptDraft(owner: string, serverVersion: number, isSent: () => boolean): KeptDraft {
  const [keeping, setKeeping] = useState<Keeping>(serverVersion > 0 ? "for-the-workshop" : "nothing-yet");
  const version = useRef(serverVersion);
  const isShut = useRef(false);
  const isElsewhere = useRef(false);
  const timer = useRef<ReturnType<typeof setTimeout>>(undefined);
  const running = useRef(Promise.resolve());
  const before = useRef("");
  useEffect(() => () => clearTimeout(timer.current), []);
  // The browser tells every tab but the one that wrote: from here on the other tab has the answers, and this one keeps still.
  useEffect(() => {
    const listen = (event: StorageEvent) => {
      if (event.key !== keyOfOwner(owner) || event.newValue === null || isShut.current) return;
      isElsewhere.current = true;
      isShut.current = true;
      clearTimeout(timer.current);
      setKeeping("in-another-tab");
    };
    window.addEventListener("storage", listen);
    return () => window.removeEventListener("storage", listen);
  }, [owner]);

  const keep = useCallback(
    (answers: LodgeReturnInput, reading: KeptReading | null) => {
      if (isSent() || isElsewhere.current) return;
      const kept = () => saveDraft(owner, answers, { reading, serverVersion: version.current });
      kept();
      const text = JSON.stringify({ answers, reading });
      const isFirst = before.current === "";
      if (text === before.current || isShut.current) return;
      before.current = text;
      // What the form opened with lies on the server already, or nothing does.
      if (isFirst && version.current > 0) return;
      clearTimeout(timer.current);
      const save = async () => {
        if (isSent() || isShut.current) return;
        try {
          const answer = await keepDraftAction({ answers, reading, seenVersion: version.current });
          if (answer.ok) {
            version.current = answer.version;
            setKeeping("for-the-workshop");
            if (!isSent()) kept();
          } else if (answer.reason === "someone-went-on" || answer.reason === "sent-already") {
            isShut.current = true;
            setKeeping(answer.reason);
          }
        } catch (error) {
          console.warn("The answers could not be kept for the workshop", error);
          setKeeping("on-this-device");
        }
      };
      // One save after the other, so that none carries the version of the one before it.
      timer.current = setTimeout(() => {
        running.current = running.current.then(save);
      }, QUIET_MS);
    },
    [owner, isSent],
  );

  const goOnFrom = useCallback((newer: number) => {
    version.current = newer;
    isShut.current = false;
    isElsewhere.current = false;
    before.current = " ";
    setKeeping("for-the-workshop");
  }, []);

  return { keeping, keep, goOnFrom };
}
