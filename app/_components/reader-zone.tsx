"use client";

import { createContext, type ReactNode, useContext, useEffect, useState } from "react";
import { zoneCookie } from "@/lib/auth/zone-cookie";

const ReaderZone = createContext<string | null>(null);

const keptS = 365 * 24 * 3600;

interface ReaderZoneFrameProps {
  /** The IANA zone this browser told before, and that the page is written in; null where it told none yet. */
  readonly told: string | null;
  readonly children: ReactNode;
}

/** Tells the server the reader's time zone, so that the next page comes with its times already in it. */
export function ReaderZoneFrame({ told, children }: ReaderZoneFrameProps) {
  const [zone, setZone] = useState(told);
  useEffect(() => {
    const own = new Intl.DateTimeFormat().resolvedOptions().timeZone;
    if (own === told) return;
    // biome-ignore lint/suspicious/noDocumentCookie: the cookie store is asynchronous and not in every browser we serve
    document.cookie = `${zoneCookie}=${encodeURIComponent(own)}; path=/; max-age=${keptS}; samesite=lax`;
    setZone(own);
  }, [told]);
  return <ReaderZone value={zone}>{children}</ReaderZone>;
}

/** The zone in which what is shown from now on is written; null where the browser has not told one yet. */
export function useReaderZone(): string | null {
  return useContext(ReaderZone);
}
