import type { Metadata, Viewport } from "next";
import type { ReactNode } from "react";
import { readToldZone } from "@/lib/auth/told-zone";
import { startNoticeLoop } from "@/lib/data/notices/notice-loop";
import { startDueLoop } from "@/lib/data/returns/due-loop";
import { ReaderZoneFrame } from "./_components/reader-zone";
import "./globals.css";

export const metadata: Metadata = {
  title: { default: "Returns Bench", template: "%s · Returns Bench" },
  description: "Returns of battery packs: lodged, examined, decided.",
  robots: { index: false, follow: false },
};

export const viewport: Viewport = {
  width: "device-width",
  initialScale: 1,
  themeColor: [
    { media: "(prefers-color-scheme: light)", color: "#eff2ea" },
    { media: "(prefers-color-scheme: dark)", color: "#121816" },
  ],
};

// Every page depends on who is signed in, and no database is there while the pages are built.
export const dynamic = "force-dynamic";

export default async function RootLayout({ children }: { children: ReactNode }) {
  // Post and clock begin with the first page served; where no mail server is set up there is no post.
  startNoticeLoop();
  startDueLoop();
  return (
    <html lang="en">
      <body>
        <ReaderZoneFrame told={await readToldZone()}>{children}</ReaderZoneFrame>
      </body>
    </html>
  );
}
