import { useCallback, useEffect, useRef, useState } from "react";
import type { LodgeReturnInput } from "@/lib/returns/lodge-return.schema";
import { keepDraftAction } from "./actions";
import { type Draft, type KeptReading, keyOfOwner, saveDraft } from "./draft";
import { type KeepOccasion, waitBeforeKeeping } from "./keep-plan";

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

interface OnScreen {
  readonly answers: LodgeReturnInput;
  readonly reading: KeptReading | null;
  readonly text: string;
}

/**
 * Keeps the answers on this device at once and for the whole workshop after a short quiet. Where the server cannot be
 * reached the device keeps them, and tries again by itself: when the network is back, and every half minute. A danger told
 * in a cellar must not wait for the next answer.
 */
export function useKeptDraft(
  owner: string,
  { serverVersion, hasReached }: Pick<Draft, "serverVersion" | "hasReached">,
  isSent: () => boolean,
): KeptDraft {
  const [keeping, setKeeping] = useState<Keeping>(serverVersion > 0 ? "for-the-workshop" : "nothing-yet");
  const version = useRef(serverVersion);
  const isShut = useRef(false);
  const isElsewhere = useRef(false);
  const timer = useRef<ReturnType<typeof setTimeout>>(undefined);
  const running = useRef(Promise.resolve());
  const onScreen = useRef<OnScreen | null>(null);
  const reached = useRef<string | null>(null);
  const hasOpened = useRef(false);

  const keepHere = useCallback(() => {
    if (onScreen.current === null) return;
    const { answers, reading, text } = onScreen.current;
    saveDraft(owner, answers, { reading, serverVersion: version.current, hasReached: text === reached.current });
  }, [owner]);

  const plan = useCallback(
    (occasion: KeepOccasion) => {
      const standing = { current: onScreen.current?.text ?? null, reached: reached.current };
      const waitMs = waitBeforeKeeping({ ...standing, isShut: isShut.current || isSent() }, occasion);
      if (waitMs === null) return;
      const save = async () => {
        const sent = onScreen.current;
        if (sent === null || isSent() || isShut.current || sent.text === reached.current) return;
        try {
          const { answers, reading } = sent;
          const answer = await keepDraftAction({ answers, reading, seenVersion: version.current });
          if (answer.ok) {
            version.current = answer.version;
            reached.current = sent.text;
            setKeeping("for-the-workshop");
            if (!isSent()) keepHere();
          } else if (answer.reason === "someone-went-on" || answer.reason === "sent-already") {
            isShut.current = true;
            setKeeping(answer.reason);
          } else reached.current = sent.text;
        } catch (error) {
          console.warn("The answers could not be kept for the workshop", error);
          setKeeping("on-this-device");
          plan("failed");
        }
      };
      clearTimeout(timer.current);
      // One save after the other, so that none carries the version of the one before it.
      timer.current = setTimeout(() => {
        running.current = running.current.then(save);
      }, waitMs);
    },
    [isSent, keepHere],
  );

  useEffect(() => {
    const goOn = () => plan("online");
    window.addEventListener("online", goOn);
    return () => {
      window.removeEventListener("online", goOn);
      clearTimeout(timer.current);
    };
  }, [plan]);

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
      const text = JSON.stringify({ answers, reading });
      onScreen.current = { answers, reading, text };
      // What the form opened with lies on the server already, unless this device failed to bring it there.
      if (!hasOpened.current && version.current > 0 && hasReached) reached.current = text;
      hasOpened.current = true;
      keepHere();
      plan("changed");
    },
    [isSent, hasReached, keepHere, plan],
  );

  const goOnFrom = useCallback((newer: number) => {
    version.current = newer;
    isShut.current = false;
    isElsewhere.current = false;
    onScreen.current = null;
    reached.current = null;
    setKeeping("for-the-workshop");
  }, []);

  return { keeping, keep, goOnFrom };
}
