import { AnswerForm } from "@/app/_components/answer-form";
import { AskedSelect, AskedText } from "@/app/_components/asked-fields";
import { CalendarDay } from "@/app/_components/calendar-day";
import type { HolidayView } from "@/lib/data/safety/clock-holidays";
import { reportingClocks } from "@/lib/safety/reporting-clocks";
import { addHolidayAction } from "./actions";

/** Public holidays that a clock leaves out; without an entry it counts weekends only. */
export function HolidaysPart({ holidays, mayAdd }: { holidays: readonly HolidayView[]; mayAdd: boolean }) {
  // A fold with nothing in it and nothing to do in it would be opened in vain.
  if (holidays.length === 0 && !mayAdd) return null;
  const nameOf = new Map(reportingClocks.clocks.map(({ id, place, name }) => [id, `${place}: ${name}`]));
  return (
    <details className="card p-4">
      <summary className="min-h-11 cursor-pointer font-semibold">
        Single days that a clock leaves out ({holidays.length})
      </summary>
      <p>Days added for one clock alone, besides the list of its country.</p>
      {holidays.length === 0 ? (
        <p className="text-soft">None is added.</p>
      ) : (
        <ul className="list-disc pl-5">
          {holidays.map(({ clockId, day, name, addedByName }) => (
            <li key={`${clockId} ${day}`}>
              <CalendarDay date={day} />, {name}: {nameOf.get(clockId) ?? clockId} (set by {addedByName})
            </li>
          ))}
        </ul>
      )}
      {mayAdd ? (
        <AnswerForm action={addHolidayAction} submit="Add this holiday" weight="second">
          <AskedSelect name="clockId" id="holiday-clock" label="Clock" required>
            {reportingClocks.clocks.map(({ id }) => (
              <option key={id} value={id}>
                {nameOf.get(id)}
              </option>
            ))}
          </AskedSelect>
          <AskedText name="day" id="holiday-day" label="Day" type="date" required />
          <AskedText name="name" id="holiday-name" label="Name" required maxLength={80} />
        </AnswerForm>
      ) : null}
    </details>
  );
}
