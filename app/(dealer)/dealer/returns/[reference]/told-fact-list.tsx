import { CalendarDay } from "@/app/_components/calendar-day";
import { FactList } from "@/app/_components/fact-list";
import { labelOf } from "@/app/_components/label-of";
import type { DealerReturnPage } from "@/lib/data/returns/returns";
import { listed } from "@/lib/diagnosis/wording";
import { conditionLabels } from "@/lib/returns/conditions";
import { dangerLabels } from "@/lib/returns/danger-signs";
import { symptomLabels } from "@/lib/returns/symptoms";

type Told = Pick<DealerReturnPage, "concern" | "symptom" | "conditions" | "dangerSigns" | "toldOn" | "noticedOn">;

export function ToldFactList({ told }: { told: Told }) {
  const all = (labels: Readonly<Record<string, string>>, stored: readonly string[], none: string) =>
    listed(stored.map((answer) => labelOf(labels, answer))) || none;
  return (
    <FactList
      facts={[
        { term: "Customer told you on", detail: <CalendarDay date={told.toldOn} /> },
        { term: "First noticed on", detail: <CalendarDay date={told.noticedOn} /> },
        { term: "What it does", detail: labelOf(symptomLabels, told.symptom) },
        { term: "When it happens", detail: all(conditionLabels, told.conditions, "Nobody knows") },
        { term: "Danger signs", detail: all(dangerLabels, told.dangerSigns, "None seen") },
        {
          term: "Customer's words",
          detail: (
            <span dir="auto" className="block whitespace-pre-line">
              {told.concern}
            </span>
          ),
        },
      ]}
    />
  );
}
