import type { Metadata, Viewport } from "next";
import type { ReactNode } from "react";
import { startNoticeLoop } from "@/lib/data/notice-loop";
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

export default function RootLayout({ children }: { children: ReactNode }) {
  // The post begins with the first page served; where no mail server is set up there is none.
  startNoticeLoop();
  return (
    <html lang="en">
      <body>{children}</body>
    </html>
  );
}
