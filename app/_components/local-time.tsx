"use client";

import { useSyncExternalStore } from "react";

/** An instant in the reader's own zone. Until script runs it is shown in UTC, and says so. */
export function LocalTime({ at }: { at: Date }) {
  const local = useSyncExternalStore(
    neverChanges,
    () => writtenForReader(at),
    () => `${inUtc.format(at)} UTC`,
  );
  return <time dateTime={at.toISOString()}>{local}</time>;
}

function neverChanges() {
  return () => {};
}

const form = {
  day: "numeric",
  month: "short",
  year: "numeric",
  hour: "2-digit",
  minute: "2-digit",
} as const satisfies Intl.DateTimeFormatOptions;
// Made once: to make one takes longer than all else that a row of a list does.
const inUtc = new Intl.DateTimeFormat("en-GB", { ...form, timeZone: "UTC" });
let inReadersZone: Intl.DateTimeFormat | undefined;

function writtenForReader(at: Date): string {
  inReadersZone ??= new Intl.DateTimeFormat("en-GB", form);
  return inReadersZone.format(at);
}
