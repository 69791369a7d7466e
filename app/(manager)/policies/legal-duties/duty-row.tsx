import { CalendarDay } from "@/app/_components/calendar-day";
import type { HeldDuty } from "@/lib/data/warranty/legal-duty-versions";
import { type LegalDuty, sayCounsel, sayDuty } from "@/lib/warranty/legal-duty";

/** What a row says and where it was taken from. */
export function DutyWords({ duty }: { duty: LegalDuty }) {
  return (
    <>
      <p>{sayDuty(duty)}</p>
      <ul className="list-disc space-y-1 pl-5 text-soft">
        {duty.sources.map(({ named, mark }) => (
          <li key={named}>
            {named} ({mark})
          </li>
        ))}
      </ul>
    </>
  );
}

/** One row of the table: for which sales, what it says, whether it counts, and whether counsel confirmed it. */
export function DutyRow({ row: { duty, countsToday } }: { row: HeldDuty }) {
  const { salesFrom, countsFrom, version, confirmation } = duty;
  return (
    <article className="space-y-2">
      <h3 className="font-semibold">
        For sales from <CalendarDay date={salesFrom} /> ({version})
      </h3>
      <DutyWords duty={duty} />
      {countsFrom === null ? null : (
        <p>
          Answers are drawn from it from <CalendarDay date={countsFrom} /> on.
        </p>
      )}
      {countsToday ? null : <p className="text-soft">It does not count today; answers of its days keep it.</p>}
      <p className={confirmation === null ? "font-semibold text-warn" : "font-semibold text-good"}>
        {sayCounsel(duty)}
      </p>
      {confirmation === null ? null : (
        <p className="text-soft">
          {confirmation.counselQualification}. {confirmation.statement} Recorded by {confirmation.recordedByName}.
        </p>
      )}
    </article>
  );
}
