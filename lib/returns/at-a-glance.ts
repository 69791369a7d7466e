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
  /** Nothing more happens with the pack under this return, or it went back to use: nobody is warned of it any more. */
  readonly isJudged: boolean;
  readonly decidedRemedy: string | null;
  readonly place: CustodyPlace;
}

/** What puts the pack itself right, or found nothing to put right: handed back after it, the pack is in use again. */
const backToUse: readonly string[] = ["repair", "return-as-is", "remote-fix"];
/** Another pack, or money, stands in for it: the pack that failed may lie at the dealer's all the same. */
const notBackToUse: readonly string[] = ["replace", "refund", "dispose", "isolate"];

/** The first question of a dealer with a customer waiting. That no sign is known is never said to be safe. */
export function safetyAtAGlance({ danger, isJudged, decidedRemedy, place }: PackAtHand): Glance {
  if (isJudged) return wheneverJudged(decidedRemedy ?? "", place);
  if (danger === "keep-away") return { words: "No: keep everybody away from it", tone: "danger" };
  if (danger === "set-apart") return { words: "No: set it apart", tone: "danger" };
  if (isWithTheMaker(place)) return { words: "The maker has it", tone: "plain" };
  return { words: "No sign of danger is known. Do not charge or ride it.", tone: "plain" };
}

function wheneverJudged(remedy: string, place: CustodyPlace): Glance {
  if (backToUse.includes(remedy)) return { words: "Judged, and given back to use", tone: "good" };
  if (isWithTheMaker(place)) return { words: "The maker has it", tone: "plain" };
  if (notBackToUse.includes(remedy)) return { words: "Keep it set apart. Do not charge or ride it.", tone: "warn" };
  return { words: "No sign of danger is known", tone: "plain" };
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
