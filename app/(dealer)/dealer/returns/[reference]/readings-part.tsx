import { labelOf } from "@/app/_components/label-of";
import { AddReadings } from "@/app/_readings/add-readings";
import { EarlierReadingsList } from "@/app/_readings/earlier-readings-list";
import { ReadingInPlainWords } from "@/app/_readings/reading-in-plain-words";
import type { DealerReturnPage } from "@/lib/data/returns/returns";
import { lowerFirst } from "@/lib/diagnosis/wording";
import { noFileReasonLabels } from "@/lib/returns/no-file-reasons";

export function ReadingsPart({ page, isDanger }: { page: DealerReturnPage; isDanger: boolean }) {
  const { readings, noFileReason } = page;
  return (
    <div id="readings" className="space-y-4">
      {readings === null ? (
        <p>
          No readings file was sent
          {noFileReason === null ? "." : `: ${lowerFirst(labelOf(noFileReasonLabels, noFileReason))}.`} A pack without
          readings is treated as one that cannot be judged yet.
        </p>
      ) : (
        <ReadingInPlainWords summary={readings} />
      )}
      <EarlierReadingsList earlier={page.earlierReadings} original={null} />
      {page.takesReadings ? (
        <AddReadings
          key={page.version}
          reference={page.reference}
          serial={page.pack.serial}
          version={page.version}
          isDanger={isDanger}
        />
      ) : null}
    </div>
  );
}
