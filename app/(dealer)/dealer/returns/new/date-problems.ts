import type { PackCard } from "@/lib/data/packs/packs";
import { checkReturnDates } from "@/lib/returns/check-return-dates";
import type { LodgeReturnInput } from "@/lib/returns/lodge-return.schema";
import { isCalendarDate } from "@/lib/warranty/calendar";
import type { AnswerName } from "./steps";

/** Dates that cannot be in this order, said while the person still stands at the question; the server asks again. */
export function dateProblems(answers: LodgeReturnInput, pack: PackCard | null, asked: readonly AnswerName[]) {
  const { noticedOn, toldOn, soldOnStated = "" } = answers;
  if (pack === null || !isCalendarDate(pack.today)) return [];
  const { today } = pack;
  // The day of the sale is asked before the others; until they are there, today is the latest they can be.
  return checkReturnDates({
    noticedOn: isCalendarDate(noticedOn) ? noticedOn : today,
    toldOn: isCalendarDate(toldOn) ? toldOn : today,
    soldOnStated: isCalendarDate(soldOnStated) ? soldOnStated : undefined,
    builtOn: isCalendarDate(pack.builtOn) ? pack.builtOn : null,
    rootBuiltOn: isCalendarDate(pack.rootBuiltOn) ? pack.rootBuiltOn : null,
    today,
  }).filter(({ field }) => asked.includes(field));
}
