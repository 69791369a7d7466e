const day = new Intl.DateTimeFormat("en-GB", { day: "numeric", month: "short", year: "numeric", timeZone: "UTC" });

/** A calendar date without a zone, written so that no reader takes the month for the day: 15 Mar 2026. */
export function CalendarDay({ date }: { date: string }) {
  return (
    <time dateTime={date} className="whitespace-nowrap">
      {writtenDay(date)}
    </time>
  );
}

/** The same as text. What is no date is shown as it came, never as "Invalid Date". */
export function writtenDay(date: string): string {
  const instant = new Date(`${date}T00:00:00Z`);
  return Number.isNaN(instant.getTime()) ? date : day.format(instant);
}
