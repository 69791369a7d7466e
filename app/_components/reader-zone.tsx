"use client";

import { createContext, type ReactNode, useContext, useEffect } from "react";
import { zoneCookie } from "@/lib/auth/zone-cookie";

const ReaderZone = createContext<string | null>(null);

const keptS = 365 * 24 * 3600;

interface ReaderZoneFrameProps {
  /** The IANA zone this browser told before, and that the page is written in; null where it told none yet. */
  readonly told: string | null;
  readonly children: ReactNode;
}

/**
 * Tells the server the reader's time zone, so that the next page comes with its times already in it. Times that change
 * when the script arrives make lines wrap anew, and a button moves away from under the finger that is pressing it.
 */
export function ReaderZoneFrame({ told, children }: ReaderZoneFrameProps) {
  useEffect(() => {
    const own = new Intl.DateTimeFormat().resolvedOptions().timeZone;
    if (own !== told)
      // biome-ignore lint/suspicious/noDocumentCookie: the cookie store is asynchronous and not in every browser we serve
      document.cookie = `${zoneCookie}=${encodeURIComponent(own)}; path=/; max-age=${keptS}; samesite=lax`;
  }, [told]);
  return <ReaderZone value={told}>{children}</ReaderZone>;
}

/** The zone the page was written in on the server; null where the browser had not told one. */
export function useToldZone(): string | null {
  return useContext(ReaderZone);
}
