import type { CalendarDate } from "@/lib/warranty/calendar";
import type { CoverOutcome } from "@/lib/warranty/cover";
import { sayDate } from "@/lib/warranty/say-date";
import { type CustodyPlace, isWithTheMaker } from "./custody-track";
import type { Danger } from "./danger-signs";

/** An answer in a few words; the reasons stand further down the page. */
export interface Glance {
  readonly words: string;
  readonly tone: "plain" | "good" | "warn" | "danger";
}

interface PackAtHand {
  readonly danger: Danger["kind"];
  /** Somebody judged the pack and gave it back to use. */
  readonly isJudged: boolean;
  readonly place: CustodyPlace;
}

/** The first question of a dealer with a customer waiting. That no sign is known is never said to be safe. */
export function safetyAtAGlance({ danger, isJudged, place }: PackAtHand): Glance {
  if (isJudged) return { words: "Judged, and given back to use", tone: "good" };
  if (danger === "keep-away") return { words: "No: keep everybody away from it", tone: "danger" };
  if (danger === "set-apart") return { words: "No: set it apart", tone: "danger" };
  if (isWithTheMaker(place)) return { words: "The maker has it", tone: "plain" };
  return { words: "No sign of danger is known. Do not charge or ride it.", tone: "plain" };
}

/** The second question, by the maker's guarantee alone: legal rights are another matter. */
export function coverAtAGlance({ outcome, endsOn }: { outcome: CoverOutcome; endsOn: CalendarDate | null }): Glance {
  switch (outcome) {
    case "in-cover":
      return { words: endsOn === null ? "Yes" : `Yes, until ${sayDate(endsOn)}`, tone: "good" };
    case "in-cover-by-grace":
      return { words: "Yes, by the days of grace", tone: "good" };
    case "covered-by-field-action":
      return { words: "Yes, whatever its date", tone: "good" };
    case "outside-makers-guarantee":
      return { words: endsOn === null ? "No" : `No, it ended on ${sayDate(endsOn)}`, tone: "warn" };
    case "cannot-tell-yet":
      return { words: "Cannot be told yet", tone: "plain" };
  }
}
