import type { CalendarDate } from "@/lib/warranty/calendar";
import { deliveryDay } from "@/lib/warranty/legal-clock";
import type { LetterFacts } from "./letter";

/**
 * The days of the guarantee, for a customer: only where the day of delivery is known. Days that were counted from the dispatch or from a
 * distributor's sale hold between maker and dealer, and the customer's own time may end later.
 */
export function datesToTell(cover: {
  readonly outcome: string;
  readonly evidence: string | null;
  readonly startsOn: CalendarDate | null;
  readonly endsOn: CalendarDate | null;
}): Pick<LetterFacts["cover"], "startsOn" | "endsOn"> {
  const startsOn = deliveryDay(cover);
  return { startsOn, endsOn: startsOn === null ? null : cover.endsOn };
}
