import { AnswerForm } from "@/app/_components/answer-form";
import { CalendarDay } from "@/app/_components/calendar-day";
import { Field, TextInput } from "@/app/_components/field";
import { SelectInput } from "@/app/_components/select-input";
import type { HolidayView } from "@/lib/data/safety/clock-holidays";
import { reportingClocks } from "@/lib/safety/reporting-clocks";
import { addHolidayAction } from "./actions";

/** Public holidays that a clock leaves out; without an entry it counts weekends only. */
export function HolidaysPart({ holidays, mayAdd }: { holidays: readonly HolidayView[]; mayAdd: boolean }) {
  const nameOf = new Map(reportingClocks.clocks.map(({ id, place, name }) => [id, `${place}: ${name}`]));
  return (
    <details className="card p-4">
      <summary className="min-h-11 cursor-pointer font-semibold">
        Single days that a clock leaves out ({holidays.length})
      </summary>
      <p>Days added for one clock alone, besides the list of its country.</p>
      <ul className="list-disc pl-5">
        {holidays.map(({ clockId, day, name, addedByName }) => (
          <li key={`${clockId} ${day}`}>
            <CalendarDay date={day} />, {name}: {nameOf.get(clockId) ?? clockId} (set by {addedByName})
          </li>
        ))}
      </ul>
      {mayAdd ? (
        <AnswerForm action={addHolidayAction} submit="Add this holiday" weight="second">
          <Field id="holiday-clock" label="Clock">
            {(wiring) => (
              <SelectInput {...wiring} name="clockId" required>
                {reportingClocks.clocks.map(({ id }) => (
                  <option key={id} value={id}>
                    {nameOf.get(id)}
                  </option>
                ))}
              </SelectInput>
            )}
          </Field>
          <Field id="holiday-day" label="Day">
            {(wiring) => <TextInput {...wiring} name="day" type="date" required />}
          </Field>
          <Field id="holiday-name" label="Name">
            {(wiring) => <TextInput {...wiring} name="name" required maxLength={80} />}
          </Field>
        </AnswerForm>
      ) : null}
    </details>
  );
}
