import type { ToVerify } from "@/lib/transport/to-verify";
import { noticeTexts } from "./compose-notice";
import type { NoticeKind } from "./notice-kinds";

/** Notices that say something of rights, duties or terms of law, or of what to do in danger. */
const SAY_OF_LAW: readonly NoticeKind[] = ["decided", "safety", "refund-to-pay"];

/** What the notices say of law and danger, in every language. */
export function noticesToVerify(): ToVerify[] {
  return Object.entries(noticeTexts).flatMap(([language, { notices }]) =>
    SAY_OF_LAW.flatMap((kind) =>
      notices[kind].paragraphs.map((paragraph) => ({
        table: "Notices",
        version: "this release",
        sentence: `${language}: ${paragraph}`,
        mark: "put into words in this house: to be confirmed by counsel",
      })),
    ),
  );
}
