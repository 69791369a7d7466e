import type { Fault } from "@/lib/diagnosis/finding";
import type { NoticeLanguage } from "@/lib/notices/notice-kinds";
import type { CalendarDate } from "@/lib/warranty/calendar";
import type { CoverOutcome } from "@/lib/warranty/cover";

/** How a test at the bench was judged. */
export type TestVerdict = "inside" | "outside" | "cannot-tell";

/** What a letter can tell: the remedies, and the two ways in which a return ends without one. */
export const letterDecisions = [
  "repair",
  "replace",
  "refund",
  "put-right-at-seller",
  "returned-unchanged",
  "other-maker",
  "no-fault-found",
  "refuse",
  "dispose-safely",
] as const;
export type LetterDecision = (typeof letterDecisions)[number];

/** Everything a letter is written from; what is not here is not in the letter. */
export interface LetterFacts {
  readonly language: NoticeLanguage;
  readonly reference: string;
  readonly serialShown: string;
  readonly decidedOn: CalendarDate;
  readonly decision: LetterDecision;
  /** What is paid back in all, and what of it was paid before; null for any other decision. */
  readonly refund: { readonly minor: number; readonly currency: string; readonly paidBeforeMinor: number } | null;
  /** Given although it is not owed. */
  readonly isGoodwill: boolean;
  /** In the customer's own words, quoted as they are. */
  readonly concern: string;
  readonly toldOn: CalendarDate;
  readonly cover: {
    readonly outcome: CoverOutcome;
    readonly startsOn: CalendarDate | null;
    readonly endsOn: CalendarDate | null;
  };
  /** Confirmed by somebody, most important first. */
  readonly faults: readonly Fault[];
  /** Measured or seen, each with its number or picture, in the words of whoever examined the pack. */
  readonly evidence: readonly string[];
  /** The readings that speak for what was confirmed, in English as the program writes them. */
  readonly readings: readonly string[];
  /** Why, in the words of whoever decided. */
  readonly reason: string;
  /** The term of the guarantee a refusal rests on; null for any other decision. */
  readonly term: string | null;
  /** Other explanations that were looked at and why they were left; needed for a refusal. */
  readonly alternatives: readonly string[];
  /** What of an earlier remedy the customer gives back, or why nothing is; null where none was given. */
  readonly comesBack: { readonly by: CalendarDate | null; readonly words: string } | null;
  /** Until a day where that is known; else so many days from when the customer has this letter. */
  readonly objection: { readonly until: CalendarDate | null; readonly days: number; readonly how: string };
}

export interface LetterPart {
  readonly heading: string;
  readonly paragraphs: readonly string[];
  /** What stands as a list under the paragraphs, in somebody's own words. */
  readonly points: readonly string[];
}

export interface Letter {
  readonly language: NoticeLanguage;
  readonly title: string;
  readonly parts: readonly LetterPart[];
}

export type LetterOutcome =
  | { readonly kind: "letter"; readonly letter: Letter }
  | { readonly kind: "incomplete"; readonly missing: readonly string[] };

/** The words of a letter in one language. `{day}` and its like are filled in. */
export interface LetterWords {
  readonly title: string;
  readonly headings: {
    readonly decision: string;
    readonly told: string;
    readonly found: string;
    readonly cover: string;
    readonly why: string;
    readonly alternatives: string;
    readonly comesBack: string;
    readonly object: string;
    readonly rights: string;
  };
  readonly decisions: Readonly<Record<LetterDecision, string>>;
  readonly goodwill: string;
  readonly refundPaidBefore: string;
  readonly told: string;
  readonly foundFaults: string;
  readonly foundNothing: string;
  readonly evidence: string;
  readonly cover: Readonly<Record<CoverOutcome, string>>;
  readonly coverDates: string;
  readonly reason: string;
  readonly term: string;
  readonly alternatives: string;
  readonly comesBack: string;
  readonly nothingComesBack: string;
  readonly object: string;
  readonly objectWithin: string;
  readonly howToObject: string;
  readonly rights: string;
  /** Under the line on which whoever sends it signs. */
  readonly signHere: string;
  readonly finding: {
    readonly title: string;
    readonly found: string;
    readonly nothing: string;
    /** Before anybody measured or examined anything. */
    readonly nothingMeasured: string;
    readonly surely: string;
    readonly perhaps: string;
    readonly group: string;
    /** How each fault shows, in words for somebody who is no technician. */
    readonly signs: Readonly<Record<Fault, string>>;
    readonly byWhich: string;
    readonly file: string;
    readonly noFile: string;
    readonly capacity: string;
    readonly capacityUnknown: string;
    readonly notes: string;
    readonly atTheBench: string;
    readonly tests: string;
    readonly measured: string;
    readonly limits: { readonly between: string; readonly least: string; readonly most: string };
    readonly verdicts: Readonly<Record<TestVerdict, string>>;
    readonly looks: Readonly<Record<TestVerdict, string>>;
    readonly inDoubt: string;
    readonly confirmed: string;
    readonly confirmedAs: string;
    readonly noFault: string;
    readonly unknown: string;
    readonly notYet: string;
    readonly nothingYet: string;
    readonly noDecision: string;
  };
  readonly faults: Readonly<Record<Fault, string>>;
}
