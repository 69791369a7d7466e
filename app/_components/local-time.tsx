"use client";

import { useSyncExternalStore } from "react";

/** An instant in the reader's own zone. Until script runs it is shown in UTC, and says so. */
export function LocalTime({ at }: { at: Date }) {
  const local = useSyncExternalStore(
    neverChanges,
    () => written(at, undefined),
    () => `${written(at, "UTC")} UTC`,
  );
  return <time dateTime={at.toISOString()}>{local}</time>;
}

function neverChanges() {
  return () => {};
}

function written(at: Date, timeZone: string | undefined): string {
  return new Intl.DateTimeFormat("en-GB", {
    day: "numeric",
    month: "short",
    year: "numeric",
    hour: "2-digit",
    minute: "2-digit",
    ...(timeZone === undefined ? {} : { timeZone }),
  }).format(at);
}
