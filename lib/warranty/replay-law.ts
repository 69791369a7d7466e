import type { CalendarDate } from "./calendar";
import type { LegalClock } from "./legal-clock";
import type { LegalDuty } from "./legal-duty";
import type { Difference, KeptAnswer, Replay } from "./replay";
import { sayDate } from "./say-date";
import { clockOfLaw } from "./three-clocks";

/** The seller's legal duty beside an answer: by the rows of its day, and by those of today. */
export interface LawReplay {
  readonly thatDay: LegalClock;
  readonly today: LegalClock;
  readonly differences: readonly Difference[];
}

interface LawHeld {
  readonly toldOn: CalendarDate;
  /** Country of the dealer that lodged, where the country of the sale is not known. */
  readonly dealerCountry: string;
  readonly duties: readonly LegalDuty[];
  readonly today: CalendarDate;
}

/**
 * Gives the legal clock of a kept answer again, with what comes out differently. The clock of its day counts from the start that was
 * answered then, that of today from the start that comes out today. Null where the facts were not kept.
 */
export function replayLaw(
  kept: KeptAnswer,
  today: Replay,
  { toldOn, dealerCountry, duties, today: day }: LawHeld,
): LawReplay | null {
  if (today.kind === "inputs-not-kept") return null;
  const held = { facts: kept.facts, toldOn, dealerCountry, duties };
  const before = clockOfLaw({ ...kept, ...held });
  const after = clockOfLaw({ ...today.cover, ...held }, day);
  const pairs: Difference[] = [
    { what: "legalRow", before: sayRow(before), after: sayRow(after) },
    { what: "legalEndsOn", before: before.endsOn, after: after.endsOn },
  ];
  return { thatDay: before, today: after, differences: pairs.filter((pair) => pair.before !== pair.after) };
}

function sayRow({ row }: LegalClock): string | null {
  return row === null ? null : `${row.version}, for sales from ${sayDate(row.salesFrom)}`;
}
