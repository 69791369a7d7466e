import type { CalendarDate } from "@/lib/warranty/calendar";
import type { NoticeKind, NoticeLanguage } from "./notice-kinds";
import type { NoticeLanguageText } from "./notice-text";
import { saySignals, type ToldSignal } from "./say-signals";
import { textsDe } from "./texts-de";
import { textsEn } from "./texts-en";
import { textsEs } from "./texts-es";

export const noticeTexts: Readonly<Record<NoticeLanguage, NoticeLanguageText>> = {
  en: textsEn,
  de: textsDe,
  es: textsEs,
};

export interface NoticeValues {
  readonly reference: string;
  /** Whole address of the page behind the sign-in. */
  readonly link: string;
  readonly until: CalendarDate | null;
  /** For an early signal alone. */
  readonly signals?: readonly ToldSignal[];
}

export interface ComposedNotice {
  readonly subject: string;
  readonly text: string;
  readonly html: string;
}

/** One notice in one language, as text and as HTML with the same words. A placeholder without a value is a fault. */
export function composeNotice(kind: NoticeKind, language: NoticeLanguage, values: NoticeValues): ComposedNotice {
  const { notices, signedBy } = noticeTexts[language];
  const { subject, paragraphs } = notices[kind];
  const plain = [...paragraphs, signedBy].map((paragraph) => fill(paragraph, language, values));
  return {
    subject: fill(subject, language, values),
    text: `${plain.join("\n\n")}\n`,
    html: document(language, [...paragraphs, signedBy], values),
  };
}

function document(language: NoticeLanguage, paragraphs: readonly string[], values: NoticeValues): string {
  const address = escapeHtml(values.link);
  const anchor = `<a href="${address}">${address}</a>`;
  const body = paragraphs
    .map((paragraph) => paragraph.split("{link}"))
    .map((parts) => parts.map((part) => escapeHtml(fill(part, language, values))).join(anchor))
    .map((paragraph) => `<p>${paragraph}</p>`)
    .join("\n");
  return `<!doctype html>\n<html lang="${language}"><head><meta charset="utf-8"><title>${escapeHtml(values.reference)}</title></head>\n<body>\n${body}\n</body></html>\n`;
}

function fill(template: string, language: NoticeLanguage, { reference, link, until, signals }: NoticeValues): string {
  return template.replace(/\{([a-z]+)\}/g, (_, name: string) => {
    if (name === "reference") return reference;
    if (name === "link") return link;
    if (name === "until" && until !== null) return sayDayIn(language, until);
    if (name === "signals" && signals !== undefined) return saySignals(language, signals);
    throw new RangeError(`${name}: the notice has no value for it`);
  });
}

/** A day as the language writes it: 5 March 2026, 5. März 2026, 5 de marzo de 2026. */
export function sayDayIn(language: NoticeLanguage, date: CalendarDate): string {
  const [year, month, day] = date.split("-").map(Number);
  const { day: order, months } = noticeTexts[language];
  return order
    .replace("{day}", String(day))
    .replace("{month}", months[(month ?? 1) - 1] ?? "")
    .replace("{year}", String(year));
}

function escapeHtml(text: string): string {
  return text.replace(/[&<>"']/g, (character) => `&#${character.charCodeAt(0)};`);
}
