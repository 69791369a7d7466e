import type { ComposedNotice } from "./compose-notice";

/** The paragraphs of a notice as a page shows them: it has its own link, and the last one only says who sent the mail. */
export function noticeOnPage({ text }: Pick<ComposedNotice, "text">, link: string): string[] {
  return text
    .trim()
    .split("\n\n")
    .slice(0, -1)
    .map((paragraph) => paragraph.replace(/:? ?\S+$/, (end) => (end.includes(link) ? "." : end)));
}
