import { FactList } from "@/app/_components/fact-list";
import { markedLines } from "@/app/_components/marked-lines";
import { MarkedList } from "@/app/_components/marked-list";
import { RouteNotice } from "@/app/_packing/route-notice";
import { markSentences } from "@/lib/transport/package-mark";
import type { PackingOrders } from "@/lib/transport/packing-orders";
import { WorkSection } from "../bench-section";

interface OrdersPartProps {
  readonly orders: PackingOrders | null;
  readonly emergencyPhone: string | null;
}

/** How it is packed and marked, every sentence with its source. */
export function OrdersPart({ orders, emergencyPhone }: OrdersPartProps) {
  if (orders === null) return null;
  if (orders.kind === "no-rules-for-country") {
    return (
      <WorkSection title="Packing">
        <p className="font-semibold">{orders.sentence}</p>
      </WorkSection>
    );
  }
  if (orders.kind === "do-not-ship") {
    return (
      <WorkSection title="What the specialist packs by">
        <RouteNotice route={orders.route} />
        <MarkedList lines={markedLines(orders.rules)} />
        <MarkedList lines={markedLines(orders.air)} />
      </WorkSection>
    );
  }
  const { packing, marks, alone, air, remarks, checklist, route } = orders;
  return (
    <>
      <RouteNotice route={route} />
      <WorkSection title="Packing">
        <FactList
          facts={[
            { term: "Rules", detail: orders.trackName },
            { term: "Goods", detail: `${orders.unNumber} ${orders.properShippingName}, class 9` },
            { term: "Emergency telephone", detail: emergencyPhone ?? "Nobody has set one (EMERGENCY_PHONE)" },
            {
              term: "Packing instruction",
              detail:
                packing.largeInstruction === null
                  ? packing.instruction
                  : `${packing.instruction}, or ${packing.largeInstruction} for one large battery in a large packaging`,
            },
          ]}
          columns={1}
        />
        <MarkedList lines={markedLines([packing.level, ...packing.contents, ...(alone === null ? [] : [alone])])} />
      </WorkSection>
      <WorkSection title="Marks on the package">
        <MarkedList lines={markedLines(markSentences(marks))} />
      </WorkSection>
      <WorkSection title="In the transport document">
        <MarkedList lines={markedLines(packing.documentEntries)} />
      </WorkSection>
      <WorkSection title="Not by air; and besides">
        <MarkedList lines={markedLines([...air, ...remarks])} />
      </WorkSection>
      <WorkSection title="Before it is handed over">
        <MarkedList ordered lines={markedLines(checklist)} />
      </WorkSection>
    </>
  );
}
