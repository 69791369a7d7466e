import { type CalendarDate, calendarDate } from "./calendar";
import { coverOf, type KnownOutcome } from "./cover";
import { type CoverCase, coverCaseSchema } from "./cover-case.schema";
import { civilDateAt } from "./place-of-sale";
import type { WarrantyPolicy } from "./policy.schema";

export type CoverCaseAnswer =
  | {
      readonly startsOn: CalendarDate;
      readonly endsOn: CalendarDate;
      readonly toldOn: CalendarDate;
      readonly covered: boolean;
      readonly outcome: KnownOutcome;
      readonly because: readonly string[];
    }
  | { readonly refused: string };

/** Answers one case of the command line; what cannot be read or told is refused in a sentence. */
export function answerCoverCase(input: unknown): CoverCaseAnswer {
  const read = coverCaseSchema.safeParse(input);
  if (!read.success) return { refused: read.error.issues[0]?.message ?? "This case cannot be read." };
  const given = read.data;
  const toldOn = dayTold(given);
  if (toldOn === null) return { refused: "toldOn and toldAt: they name different days; keep one of them." };
  const cover = coverOf(
    {
      start: { deliveryReceiptOn: given.soldOn, dispatchedOn: given.dispatchedOn },
      toldOn,
      replacements: given.replacements,
    },
    policyOf(given),
  );
  if (cover.outcome === "cannot-tell-yet") return { refused: cover.because.join(" ") };
  const { startsOn, endsOn, outcome, because } = cover;
  return { startsOn, endsOn, toldOn, covered: outcome !== "outside-makers-guarantee", outcome, because };
}

function dayTold(given: CoverCase): CalendarDate | null {
  const { toldOn, toldAt, zone } = given;
  if (toldAt === undefined || zone === undefined) return toldOn ?? null;
  const dayAtPlace = civilDateAt(toldAt, zone);
  return toldOn === undefined || toldOn === dayAtPlace ? dayAtPlace : null;
}

function policyOf(given: CoverCase): WarrantyPolicy {
  return {
    version: "as given",
    // A policy given with its case is in force whenever that case is.
    validFrom: calendarDate("1900-01-01"),
    months: given.months,
    graceDays: given.graceDays ?? 0,
    leapDay: given.leapDay ?? "february-28",
    stockAgeCapMonths: given.stockAgeCapMonths ?? null,
    replacementRule: given.replacementRule ?? "remainder",
    minimumDays: given.minimumDays ?? 0,
  };
}
