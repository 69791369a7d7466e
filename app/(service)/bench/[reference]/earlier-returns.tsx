import { CalendarDay } from "@/app/_components/calendar-day";
import { labelOf } from "@/app/_components/label-of";
import { SerialText } from "@/app/_components/serial-text";
import type { BenchReturn } from "@/lib/data/returns/bench-returns";
import { remedyLabels } from "@/lib/returns/decision.schema";
import { BenchSection } from "./bench-section";

/** Other returns of the same pack: one that comes back again was not understood the first time. */
export function EarlierReturns({ earlier }: Pick<BenchReturn, "earlier">) {
  return (
    <BenchSection title="Other returns of this pack">
      {earlier.length === 0 ? (
        <p className="text-soft">None: it is here for the first time.</p>
      ) : (
        <ul className="space-y-2">
          {earlier.map(({ reference, toldOn, remedy }) => (
            <li key={reference}>
              <a href={`/bench/${reference}`}>
                <SerialText>{reference}</SerialText>
              </a>
              <span className="block text-sm text-soft">
                Told on <CalendarDay date={toldOn} />; {remedy === null ? "not decided" : labelOf(remedyLabels, remedy)}
              </span>
            </li>
          ))}
        </ul>
      )}
    </BenchSection>
  );
}
