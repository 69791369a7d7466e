import { markedLines } from "@/app/_components/marked-lines";
import { MarkedList } from "@/app/_components/marked-list";
import { Notice } from "@/app/_components/notice";
import { markSentences } from "@/lib/transport/package-mark";
import type { RouteWarning } from "@/lib/transport/route";

/** Before the orders: that they are not the whole of what the way asks for, and what the rules at its other end say. */
export function RouteNotice({ route }: { route: RouteWarning | null }) {
  if (route === null) return null;
  const { title, sentences, other } = route;
  return (
    <Notice kind="danger" title={title}>
      <MarkedList lines={markedLines(sentences)} />
      {other === null ? null : (
        <details className="mt-2">
          <summary className="min-h-11 cursor-pointer py-2.5 font-semibold">
            What “{other.trackName}” asks for{other.packing === null ? "" : `: ${other.packing.instruction}`}
          </summary>
          <MarkedList
            lines={markedLines(
              other.packing === null
                ? other.critical
                : [
                    other.packing.level,
                    ...other.packing.contents,
                    ...markSentences(other.packing.marks),
                    ...other.packing.documentEntries,
                    ...other.remarks,
                  ],
            )}
          />
        </details>
      )}
    </Notice>
  );
}
