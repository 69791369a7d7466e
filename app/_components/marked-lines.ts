import { type SourcedText, sayMark } from "@/lib/transport/sourced-text";
import type { MarkedLine } from "./marked-list";

export function markedLines(texts: readonly SourcedText[]): MarkedLine[] {
  return texts.map(({ text, mark }) => ({ text, mark: sayMark(mark), unverified: mark.kind === "from-memory" }));
}
