import type { CalendarDate } from "@/lib/warranty/calendar";

export interface ReturnDates {
  readonly noticedOn: CalendarDate;
  readonly toldOn: CalendarDate;
  readonly soldOnStated?: CalendarDate | undefined;
  /** Day of build from the build record; null where the pack has none. */
  readonly builtOn: CalendarDate | null;
  /** The same of the first pack of its chain, whose sale it is that is asked for; its own where it replaced none. */
  readonly rootBuiltOn: CalendarDate | null;
  /** Today on the calendar of the place of sale. */
  readonly today: CalendarDate;
}

export interface ReturnDateProblem {
  readonly field: "noticedOn" | "toldOn" | "soldOnStated";
  readonly sentence: string;
}

/**
 * What is wrong with the order of the dates: built, sold, noticed, told, today. Days may coincide. A fault noticed
 * before the sale is let through: packs are found faulty in the shop. Empty when nothing is wrong.
 */
export function checkReturnDates(facts: ReturnDates): ReturnDateProblem[] {
  const { noticedOn, toldOn, soldOnStated, builtOn, today } = facts;
  const problems: ReturnDateProblem[] = [];
  if (toldOn > today)
    problems.push({ field: "toldOn", sentence: "This day is still to come. When did they tell you?" });
  if (noticedOn > today) {
    problems.push({ field: "noticedOn", sentence: "This day is still to come. When was it first noticed?" });
  } else if (noticedOn > toldOn) {
    problems.push({ field: "noticedOn", sentence: `It cannot be noticed after you were told on ${toldOn}.` });
  }
  if (builtOn !== null && noticedOn < builtOn) {
    problems.push({ field: "noticedOn", sentence: `The pack was built on ${builtOn}. Check the day and the serial.` });
  }
  if (soldOnStated !== undefined) problems.push(...saleProblems(soldOnStated, facts));
  return problems;
}

function saleProblems(soldOn: CalendarDate, { toldOn, builtOn, rootBuiltOn }: ReturnDates): ReturnDateProblem[] {
  if (rootBuiltOn !== null && soldOn < rootBuiltOn) {
    const which = rootBuiltOn === builtOn ? "The pack" : "The first pack, which this one replaces,";
    return [
      {
        field: "soldOnStated",
        sentence: `${which} was built on ${rootBuiltOn}, so it cannot be sold before. Check the serial too.`,
      },
    ];
  }
  if (soldOn > toldOn) {
    return [{ field: "soldOnStated", sentence: `The sale cannot be after the customer told you on ${toldOn}.` }];
  }
  return [];
}
