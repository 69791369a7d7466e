import type { NoticeKind } from "./notice-kinds";

/**
 * The words of one notice. `{reference}`, `{link}` and `{until}` are filled in; nothing else may be, because a mail
 * passes through hands we do not know: no customer, no serial, no reading, no reason stands in it. `{signals}` alone besides, in
 * letters to offices of the house: faults and numbers of a whole group, of no single pack.
 */
export interface NoticeText {
  readonly subject: string;
  readonly paragraphs: readonly string[];
}

export type NoticeTexts = Readonly<Record<NoticeKind, NoticeText>>;

/** Those that lie in a file of their own beside the others of a language. */
export type HouseNoticeTexts = Pick<
  NoticeTexts,
  | "class-needed"
  | "class-proposed"
  | "quarantine-overdue"
  | "measurement-overdue"
  | "emergency-look"
  | "set-held-back"
  | "stop-opened"
>;

/** What closes every notice, and how days are named. */
export interface NoticeLanguageText {
  readonly notices: NoticeTexts;
  readonly signedBy: string;
  readonly months: readonly string[];
  /** Order of a written day, e.g. `{day}. {month} {year}`. */
  readonly day: string;
}
