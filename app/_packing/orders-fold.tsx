import { markedLines } from "@/app/_components/marked-lines";
import { MarkedList } from "@/app/_components/marked-list";
import { markSentences } from "@/lib/transport/package-mark";
import type { PackingOrders } from "@/lib/transport/packing-orders";

interface OrdersFoldProps {
  readonly orders: Extract<PackingOrders, { kind: "pack" }>;
  readonly emergencyPhone: string | null;
}

/** All that whoever consigns the pack answers for, where it is packed: packing, marks, transport document and what holds besides. */
export function OrdersFold({ orders, emergencyPhone }: OrdersFoldProps) {
  const { packing, alone, marks, air, remarks, trackName, unNumber, properShippingName } = orders;
  const parts = [
    { title: "Packing", texts: [packing.level, ...packing.contents, ...(alone === null ? [] : [alone])] },
    { title: "Marks on the package", texts: markSentences(marks) },
    { title: "In the transport document", texts: packing.documentEntries },
    { title: "Not by air; and besides", texts: [...air, ...remarks] },
  ].filter(({ texts }) => texts.length > 0);
  return (
    <details className="card">
      <summary className="min-h-12 cursor-pointer px-3 py-3 font-semibold">
        Packing, marks, transport document: what {trackName} asks of whoever sends it
      </summary>
      <div className="space-y-3 border-t border-rule p-3">
        <p>
          {unNumber} {properShippingName}, class 9, packed by {packing.instruction}
          {packing.largeInstruction === null ? "" : `, or ${packing.largeInstruction} for one large battery`}.
        </p>
        <p>
          {emergencyPhone === null
            ? "Nobody has set an emergency telephone number for this load: ask the service desk which one goes into the transport document."
            : `Emergency telephone for this load: ${emergencyPhone}. Where something happens, call the local emergency number first.`}
        </p>
        {parts.map(({ title, texts }) => (
          <section key={title} className="space-y-2">
            <h3>{title}</h3>
            <MarkedList lines={markedLines(texts)} />
          </section>
        ))}
      </div>
    </details>
  );
}
