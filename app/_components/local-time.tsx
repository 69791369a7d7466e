"use client";

import { useState } from "react";
import { useReaderZone } from "./reader-zone";

/**
 * An instant in the reader's own zone; in UTC, and said so, on a page that came before the browser had told its zone. What a page came
 * with stays while it is open: a time that changes makes lines wrap anew, and a button moves away from under the finger that presses it.
 */
export function LocalTime({ at }: { at: Date }) {
  const known = useReaderZone();
  const [zone] = useState(known);
  return (
    // Server and browser may know another spelling of a month: the page keeps the one it came with.
    <time dateTime={at.toISOString()} suppressHydrationWarning>
      {zone === null ? `${formatOf("UTC").format(at)} UTC` : formatOf(zone).format(at)}
    </time>
  );
}

// One for each zone, made once: to make one takes longer than all else that a row of a list does.
const formats = new Map<string, Intl.DateTimeFormat>();

function formatOf(timeZone: string): Intl.DateTimeFormat {
  const made = formats.get(timeZone);
  if (made !== undefined) return made;
  const format = new Intl.DateTimeFormat("en-GB", {
    day: "numeric",
    month: "short",
    year: "numeric",
    hour: "2-digit",
    minute: "2-digit",
    timeZone,
  });
  formats.set(timeZone, format);
  return format;
}
