import { CalendarDay } from "@/app/_components/calendar-day";
import type { BenchReturn } from "@/lib/data/returns/bench-returns";

/** The question the dealer has not answered yet. */
export function QuestionCard({ question }: { question: NonNullable<BenchReturn["next"]["question"]> }) {
  const { text, dueOn, reminders, askedByName } = question;
  return (
    <section aria-label="Question to the dealer" className="border-2 border-dashed border-edge bg-raised p-4">
      <p dir="auto" className="whitespace-pre-line">
        {text}
      </p>
      <p className="mt-1 text-soft">
        {askedByName} asked; the answer is wanted by <CalendarDay date={dueOn} />.{" "}
        {reminders === 0 ? "No reminder yet." : `Reminded ${reminders === 1 ? "once" : `${reminders} times`}.`}
      </p>
    </section>
  );
}
