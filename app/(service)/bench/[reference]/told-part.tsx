import Link from "next/link";
import { CalendarDay } from "@/app/_components/calendar-day";
import { FactList } from "@/app/_components/fact-list";
import { labelOf } from "@/app/_components/label-of";
import type { BenchReturn } from "@/lib/data/returns/bench-returns";
import { listed } from "@/lib/diagnosis/wording";
import { conditionLabels } from "@/lib/returns/conditions";
import { dangerLabels } from "@/lib/returns/danger-signs";
import { symptomLabels } from "@/lib/returns/symptoms";
import { askOfComplaint } from "@/lib/safety/signs-in-words";
import { countryName } from "@/lib/transport/country-name";
import { BenchSection } from "./bench-section";

/** The complaint as it came in: customer's words first, unedited, in whatever language. */
export function ToldPart({ page }: { page: BenchReturn }) {
  const all = (labels: Readonly<Record<string, string>>, stored: readonly string[], none: string) =>
    listed(stored.map((answer) => labelOf(labels, answer))) || none;
  const unticked = page.safetyOpen ? null : askOfComplaint(page.concern, page.dangerSigns);
  return (
    <BenchSection title="The complaint">
      <blockquote dir="auto" className="border-l-4 border-accent bg-raised px-3 py-2 whitespace-pre-line">
        {page.concern}
      </blockquote>
      {unticked === null ? null : (
        <p className="border-l-8 border-warn pl-3 font-semibold">
          {unticked}{" "}
          <Link href={`/bench/${page.reference}/incident`} className="text-accent underline underline-offset-4">
            Raise an incident
          </Link>
        </p>
      )}
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
