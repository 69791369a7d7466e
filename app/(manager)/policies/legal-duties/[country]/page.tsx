import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { CalendarDay } from "@/app/_components/calendar-day";
import { HouseFrame } from "@/app/_components/house-frame";
import { QuestionForm } from "@/app/_components/question-form";
import { VersionCard } from "@/app/_two-people/version-card";
import { may } from "@/lib/access/may";
import { requireActor } from "@/lib/auth/session";
import { readLegalTable } from "@/lib/data/warranty/legal-duty-versions";
import { isCountry } from "@/lib/transport/country-name";
import { proposeLegalDutyAction, recordCounselsWordAction, settleLegalDutyAction } from "../actions";
import { dutyCountryName } from "../duty-country-name";
import { counselsWordQuestions, dutyQuestions } from "../duty-questions";
import { DutyRow, DutyWords } from "../duty-row";

export const metadata: Metadata = { title: "The seller's legal duty in a country" };

export default async function LegalDutyOfCountryPage({ params }: { params: Promise<{ country: string }> }) {
  const actor = await requireActor("read-policies");
  const { country } = await params;
  if (country !== "EU" && !isCountry(country)) notFound();
  const table = await readLegalTable(actor, country);
  if (table === null) notFound();
  const held = [...table.held].sort((one, other) => other.duty.salesFrom.localeCompare(one.duty.salesFrom));
  const newest = held.find(({ countsToday }) => countsToday)?.duty ?? null;
  return (
    <HouseFrame actor={actor} current="/policies">
      <div className="max-w-4xl space-y-8">
        <div className="space-y-2">
          <h1>The seller&rsquo;s legal duty: {dutyCountryName(country)}</h1>
          <Link
            href="/policies/legal-duties"
            className="inline-flex min-h-11 items-center font-semibold text-accent underline underline-offset-4"
          >
            All countries
          </Link>
        </div>
        <section aria-labelledby="rows" className="space-y-4">
          <h2 id="rows">What is held</h2>
          {held.length === 0 ? <p>No row is held: whoever asks is told to ask counsel.</p> : null}
          {held.map((row) => (
            <div key={row.duty.version + row.fingerprint} className="card space-y-3 p-4">
              <DutyRow row={row} />
              {may(actor, "confirm-law") && row.duty.confirmation === null ? (
                <details>
                  <summary className="min-h-11 cursor-pointer py-2 font-semibold">
                    Counsel has confirmed this row, for sales from <CalendarDay date={row.duty.salesFrom} />
                  </summary>
                  <QuestionForm
                    id={`word-${row.fingerprint.slice(0, 12)}`}
                    action={recordCounselsWordAction}
                    hidden={{ fingerprint: row.fingerprint }}
                    questions={counselsWordQuestions}
                    button="Record counsel's word"
                  />
                </details>
              ) : null}
            </div>
          ))}
        </section>
        {table.proposals.length === 0 ? null : (
          <section aria-labelledby="proposed" className="space-y-4">
            <h2 id="proposed">What was proposed</h2>
            {table.proposals.map((row) => (
              <VersionCard
                key={row.version}
                row={row}
                maySettle={may(actor, "approve-law")}
                another="another manager"
                action={settleLegalDutyAction}
              >
                <p className="font-semibold">
                  For sales from <CalendarDay date={row.duty.salesFrom} />
                </p>
                <DutyWords duty={row.duty} />
              </VersionCard>
            ))}
          </section>
        )}
        {may(actor, "propose-law") ? (
          <section aria-labelledby="propose" className="space-y-4">
            <h2 id="propose">Propose a row</h2>
            <QuestionForm
              id="duty"
              action={proposeLegalDutyAction}
              hidden={{ country }}
              questions={dutyQuestions(country, newest)}
              button="Propose"
            />
          </section>
        ) : null}
      </div>
    </HouseFrame>
  );
}
