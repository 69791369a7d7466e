import type { CalendarDate } from "./calendar";
import { type CoverOutcome, coverOf } from "./cover";
import { type CoverCase, coverCaseSchema } from "./cover-case.schema";
import { civilDateAt } from "./place-of-sale";
import { type WarrantyPolicy, warrantyPolicySchema } from "./policy.schema";
import { chainFault } from "./replacement-chain";

export type CoverCaseAnswer =
  | {
      readonly startsOn: CalendarDate;
      readonly endsOn: CalendarDate;
      /** Last day on which a complaint still counts: grace and weekend included. */
      readonly graceEndsOn: CalendarDate;
      readonly toldOn: CalendarDate;
      readonly covered: boolean;
      readonly outcome: CoverOutcome;
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
  const fault = chainFault(given.replacements ?? []);
  if (fault !== null) return { refused: fault };
  const cover = coverOf(
    {
      start: { deliveryReceiptOn: given.soldOn, dispatchedOn: given.dispatchedOn },
      toldOn,
      replacements: given.replacements,
      absences: given.absences,
    },
    policyOf(given),
  );
  if (cover.outcome === "covered-by-field-action") throw new Error("A case names no field action.");
  if (cover.outcome !== "cannot-tell-yet") {
    const { startsOn, endsOn, graceEndsOn, outcome, because } = cover;
    const covered = outcome !== "outside-makers-guarantee";
    return { startsOn, endsOn, graceEndsOn, toldOn, covered, outcome, because };
  }
  // The contract asks for the window from dispatch here; the reasons say whom it binds.
  if (cover.reason === "only-the-shelf-limit-known" && cover.settlement !== null) {
    return { ...cover.settlement, toldOn, covered: false, outcome: cover.outcome, because: cover.because };
  }
  return { refused: cover.because.join(" ") };
}

function dayTold(given: CoverCase): CalendarDate | null {
  const { toldOn, toldAt, zone } = given;
  if (toldAt === undefined || zone === undefined) return toldOn ?? null;
  const dayAtPlace = civilDateAt(toldAt, zone);
  return toldOn === undefined || toldOn === dayAtPlace ? dayAtPlace : null;
}

/** Terms left out are those of a policy that says nothing about them. */
function policyOf(given: CoverCase): WarrantyPolicy {
  // A policy given with its case is in force whenever that case is.
  return warrantyPolicySchema.parse({ ...given, version: "as given", validFrom: "1900-01-01" });
}
