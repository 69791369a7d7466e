import { CalendarDay } from "@/app/_components/calendar-day";
import { FactList } from "@/app/_components/fact-list";
import { SerialText } from "@/app/_components/serial-text";
import type { DealerReturnPage } from "@/lib/data/returns/returns";

export function PackFactList({ pack }: { pack: DealerReturnPage["pack"] }) {
  return (
    <FactList
      facts={[
        { term: "Serial", detail: <SerialText>{pack.serialShown}</SerialText> },
        { term: "Model", detail: pack.modelName },
        { term: "Built on", detail: <CalendarDay date={pack.builtOn} /> },
        { term: "Revision", detail: pack.revisionInWords },
      ]}
    />
  );
}
