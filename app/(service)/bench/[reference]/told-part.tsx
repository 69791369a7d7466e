import { CalendarDay } from "@/app/_components/calendar-day";
import { FactList } from "@/app/_components/fact-list";
import { labelOf } from "@/app/_components/label-of";
import type { BenchReturn } from "@/lib/data/returns/bench-returns";
import { conditionLabels } from "@/lib/returns/conditions";
import { dangerLabels } from "@/lib/returns/danger-signs";
import { symptomLabels } from "@/lib/returns/symptoms";
import { countryName } from "@/lib/transport/country-name";
import { BenchSection } from "./bench-section";

/** The complaint as it came in: customer's words first, unedited, in whatever language. */
export function ToldPart({ page }: { page: BenchReturn }) {
  const all = (labels: Readonly<Record<string, string>>, stored: readonly string[], none: string) =>
    stored.map((answer) => labelOf(labels, answer)).join("; ") || none;
  return (
    <BenchSection title="The complaint">
      <blockquote dir="auto" className="border-l-4 border-accent bg-raised px-3 py-2 whitespace-pre-line">
        {page.concern}
      </blockquote>
      <FactList
        facts={[
          { term: "What it does", detail: labelOf(symptomLabels, page.symptom) },
          { term: "When it happens", detail: all(conditionLabels, page.conditions, "Nobody knows") },
          { term: "Danger signs", detail: all(dangerLabels, page.dangerSigns, "None seen") },
          { term: "First noticed on", detail: <CalendarDay date={page.noticedOn} /> },
          { term: "Customer told the dealer on", detail: <CalendarDay date={page.toldOn} /> },
          {
            term: "Dealer",
            detail: (
              <>
                {page.dealer.name}
                <span className="block text-sm text-soft">
                  {page.dealer.town}, {countryName(page.dealer.country)}
                </span>
              </>
            ),
          },
        ]}
      />
    </BenchSection>
  );
}
