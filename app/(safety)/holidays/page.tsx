import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { HouseFrame } from "@/app/_components/house-frame";
import { type FormQuestion, QuestionForm } from "@/app/_components/question-form";
import { VersionCard } from "@/app/_two-people/version-card";
import { may } from "@/lib/access/may";
import { requireActor } from "@/lib/auth/session";
import { listHolidayCalendars } from "@/lib/data/safety/holiday-calendars";
import { proposeHolidaysAction, settleHolidaysAction } from "./actions";
import { HolidayList } from "./holiday-list";

export const metadata: Metadata = { title: "Public holidays" };

const questions: readonly FormQuestion[] = [
  { name: "version", label: "Name of the version", hint: "Short, for example DE-2027." },
  { name: "country", label: "Country", hint: "Two letters, for example DE." },
  { name: "validFrom", label: "First day", hint: "Today or later.", kind: "date" },
  {
    name: "holidays",
    label: "Holidays, one a line",
    hint: "The day, a colon, the name, and in brackets where it comes from: “12-25: Christmas Day [from memory: verify in …]”. The day may also be easter+1, third monday 01, last monday 05, or one day as 2026-10-03.",
    kind: "long",
    rows: 12,
  },
  { name: "why", label: "Why", hint: "The approver has only this.", kind: "long" },
];

export default async function HolidaysPage() {
  const actor = await requireActor("read-incidents");
  const calendars = await listHolidayCalendars(actor);
  if (calendars === null) notFound();
  return (
    <HouseFrame actor={actor} current="/incidents">
      <div className="max-w-4xl space-y-8">
        <div className="space-y-2">
          <h1>Public holidays, country by country</h1>
          <p>
            Reporting clocks that count working days leave these out, and a guarantee that ends on one lasts until the
            next working day where its version says so. A country without a list counts weekends only. A version is
            never edited: one person proposes the next, another approves it.
          </p>
        </div>
        {calendars.map((row) => (
          <VersionCard
            key={row.version}
            row={row}
            maySettle={may(actor, "approve-holidays")}
            another="another person"
            action={settleHolidaysAction}
          >
            <HolidayList country={row.country} holidays={row.holidays} isProposed={row.state === "proposed"} />
          </VersionCard>
        ))}
        {may(actor, "propose-holidays") ? (
          <section className="space-y-4">
            <h2>Propose a list</h2>
            <QuestionForm id="holidays" action={proposeHolidaysAction} questions={questions} button="Propose" />
          </section>
        ) : null}
      </div>
    </HouseFrame>
  );
}
