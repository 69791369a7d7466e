"use client";

import Link from "next/link";
import { useSyncExternalStore } from "react";
import { keyOfDraft } from "@/app/_components/drafts";

/** Somebody was interrupted at the counter: says so where they come back to, with the way on. What the workshop keeps is listed apart. */
export function UnsentReturn({ owner, keptKeys }: { owner: string; keptKeys: readonly string[] }) {
  const key = useSyncExternalStore(
    neverChanges,
    () => keyOfDraft(owner),
    () => null,
  );
  if (key === null || keptKeys.includes(key)) return null;
  return (
    <p className="mt-3 border-2 border-edge bg-raised px-4 pt-3 pb-1">
      <strong>A return is not sent yet.</strong> Its answers are kept on this device only.{" "}
      {/* The form leads to the first question that is still open. */}
      <Link
        href="/dealer/returns/new?step=check"
        className="inline-flex min-h-11 items-center font-semibold text-accent underline underline-offset-4"
      >
        Go on with it
      </Link>
    </p>
  );
}

function neverChanges() {
  return () => {};
}
