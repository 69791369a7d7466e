"use client";

import { useSyncExternalStore } from "react";
import { useToldZone } from "./reader-zone";

/** An instant in the reader's own zone. Where no browser has told its zone yet it is shown in UTC first, and says so. */
export function LocalTime({ at }: { at: Date }) {
  const told = useToldZone();
  const local = useSyncExternalStore(
    neverChanges,
    () => formatOf(readersOwn).format(at),
    () => (told === null ? `${formatOf("UTC").format(at)} UTC` : formatOf(told).format(at)),
  );
  return <time dateTime={at.toISOString()}>{local}</time>;
}

function neverChanges() {
  return () => {};
}

const readersOwn = "own";
// One for each zone, made once: to make one takes longer than all else that a row of a list does.
const formats = new Map<string, Intl.DateTimeFormat>();

function formatOf(zone: string): Intl.DateTimeFormat {
  const made = formats.get(zone);
  if (made !== undefined) return made;
  const format = new Intl.DateTimeFormat("en-GB", {
    day: "numeric",
    month: "short",
    year: "numeric",
    hour: "2-digit",
    minute: "2-digit",
    ...(zone === readersOwn ? {} : { timeZone: zone }),
  });
  formats.set(zone, format);
  return format;
}
