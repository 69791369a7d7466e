"use client";

import { useEffect, useState } from "react";
import { type Draft, loadDraft } from "./draft";
import { GuidedReturn } from "./guided-return";

/** Waits for the browser, because the answers kept on the device are the start of the form. */
export function ReturnForm({ owner }: { owner: string }) {
  const [draft, setDraft] = useState<Draft | null>(null);
  useEffect(() => setDraft(loadDraft(owner)), [owner]);
  if (draft === null) return <p className="text-soft">Fetching your answers…</p>;
  return <GuidedReturn owner={owner} draft={draft} />;
}
