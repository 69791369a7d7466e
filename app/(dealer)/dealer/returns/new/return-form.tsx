"use client";

import { useEffect, useState } from "react";
import { isWorthKeeping } from "@/lib/returns/draft-answers.schema";
import type { DealerScripts } from "@/lib/transport/dealer-script";
import { keepDraftAction } from "./actions";
import { type Draft, loadDraft } from "./draft";
import { GuidedReturn } from "./guided-return";

interface ReturnFormProps {
  readonly owner: string;
  /** The workshop's copy the address asks for; null where it asks for none or it is gone. */
  readonly kept: Draft | null;
  /** The workshop's copy goes before what lies on this device, though that is newer. */
  readonly preferKept: boolean;
  readonly scripts: DealerScripts;
}

/** Waits for the browser, because the answers kept on the device are the start of the form. */
export function ReturnForm({ owner, kept, preferKept, scripts }: ReturnFormProps) {
  const [draft, setDraft] = useState<Draft | null>(null);
  useEffect(() => {
    let isGone = false;
    startOf(owner, kept, preferKept).then((start) => {
      if (isGone) return;
      // The answers are on this device from now on; the address need not name them again.
      if (kept !== null) window.history.replaceState(null, "", "?step=check");
      setDraft(start);
    });
    return () => {
      isGone = true;
    };
  }, [owner, kept, preferKept]);
  if (draft === null) return <p className="text-soft">Fetching your answers…</p>;
  return <GuidedReturn owner={owner} draft={draft} scripts={scripts} />;
}

async function startOf(owner: string, kept: Draft | null, preferKept: boolean): Promise<Draft> {
  const local = loadDraft(owner);
  if (kept === null) return local;
  const isSame = local.answers.clientKey === kept.answers.clientKey;
  if (isSame && local.savedAtMs > kept.savedAtMs && local.serverVersion === kept.serverVersion && !preferKept) {
    return local;
  }
  // Another unfinished return lies on this device: the workshop keeps it before this one takes its place.
  if (!isSame && isWorthKeeping(local.answers)) {
    const { answers, reading, serverVersion } = local;
    await keepDraftAction({ answers, reading, seenVersion: serverVersion });
  }
  return kept;
}
