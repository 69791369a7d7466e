import { expect, test } from "vitest";
import { composeNotice, sayDayIn } from "@/lib/notices/compose-notice";
import { kindsWithDay, noticeKinds, noticeLanguageOf, noticeLanguages } from "@/lib/notices/notice-kinds";
import { noticeOnPage } from "@/lib/notices/notice-on-page";
import { noticeWhenReady } from "@/lib/notices/notice-when-ready";
import { afterFailure, MAX_ATTEMPTS } from "@/lib/notices/send-again";
import { textsDe } from "@/lib/notices/texts-de";
import { textsEn } from "@/lib/notices/texts-en";
import { textsEs } from "@/lib/notices/texts-es";
import { decidableRemedies } from "@/lib/returns/decision.schema";
import { calendarDate as day } from "@/lib/warranty/calendar";

const all = { en: textsEn, de: textsDe, es: textsEs };
const placeholders = (text: string) => (text.match(/\{[a-z]+\}/g) ?? []).sort();

test.for(noticeKinds.map((kind) => ({ kind })))("$kind has the same placeholders in every language", ({ kind }) => {
  const expected = textsEn.notices[kind];
  for (const language of noticeLanguages) {
    const { subject, paragraphs } = all[language].notices[kind];
    expect(placeholders(subject)).toEqual(["{reference}"]);
    expect(paragraphs.length).toBe(expected.paragraphs.length);
    expect(placeholders(paragraphs.join(" "))).toEqual(placeholders(expected.paragraphs.join(" ")));
    expect(paragraphs.join(" ")).toContain("{link}");
    expect(paragraphs.join(" ").includes("{until}")).toBe(kindsWithDay.includes(kind));
  }
});

test("no two languages share a sentence, so none was left untranslated", () => {
  for (const kind of noticeKinds) {
    const [en, de, es] = [textsEn, textsDe, textsEs].map((texts) => texts.notices[kind].paragraphs);
    expect(new Set([en?.[0], de?.[0], es?.[0]]).size).toBe(3);
  }
});

test("text and HTML carry the same words, the link, and nothing but the reference in the subject", () => {
  const link = 'https://returns.example/dealer/returns/R-26-00001-X?a=1&b="2"';
  for (const language of noticeLanguages) {
    for (const kind of noticeKinds) {
      const notice = composeNotice(kind, language, {
        ...{ reference: "R-26-00001-X", link, until: day("2026-03-05") },
        signals: [{ fault: "sense-wire", observed: 9, expected: 2.4 }],
      });
      expect(notice.subject).toMatch(/^R-26-00001-X: [^{}]+$/);
      expect(notice.text).toContain(link);
      expect(notice.text + notice.html).not.toMatch(/[{}]/);
      expect(notice.html).toContain('href="https://returns.example/dealer/returns/R-26-00001-X?a=1&#38;b=&#34;2&#34;"');
      const words = (text: string) => text.replace(/\s+/g, " ").trim();
      const fromHtml = notice.html
        .replace(/^[\s\S]*<body>/, "")
        .replace(/<[^>]+>/g, " ")
        .replace(/&#([0-9]+);/g, (_, code: string) => String.fromCharCode(Number(code)));
      expect(words(fromHtml).replaceAll(" .", ".")).toBe(words(notice.text));
    }
  }
});

test("a notice that names a day cannot be made without one", () => {
  expect(() => composeNotice("question", "de", { reference: "R", link: "https://x", until: null })).toThrow(/until/);
});

// Numbers as CLDR writes them in these languages.
test("an early signal names its faults and its numbers, on the day they were known, and promises no page its reader may not open", () => {
  const values = { reference: "Cell lot 7B", link: "https://x/reliability/affected", until: day("2026-03-05") };
  const signals = [
    { fault: "acute-event", observed: 1234, expected: 2.44 },
    { fault: null, observed: 12, expected: 5 },
  ];
  const told = noticeLanguages.map((language) => composeNotice("early-signal", language, { ...values, signals }).text);
  expect(told[0]).toContain(
    "It is about signs of a dangerous event: 1,234 failures where 2.4 were to be expected; all faults together: 12 failures where 5.0 were to be expected.",
  );
  expect(told[0]).toContain("at the end of 5 March 2026");
  expect(told[1]).toContain("Zeichen eines gefährlichen Vorgangs: 1.234 Ausfälle, wo 2,4 zu erwarten waren");
  expect(told[2]).toMatch(/señales de un suceso peligroso: 1\.?234 fallos donde cabía esperar 2,4/);
  expect(told.join(" ")).not.toMatch(/yesterday|gestrig|ayer|failure rates|Ausfallraten|tasas de fallo/);
  expect(() => composeNotice("early-signal", "en", values)).toThrow(/signals/);
});

test("days are written as the language writes them", () => {
  expect(noticeLanguages.map((language) => sayDayIn(language, day("2026-03-05")))).toEqual([
    "5 March 2026",
    "5. März 2026",
    "5 de marzo de 2026",
  ]);
});

test("a person's own language comes before that of the country, and English before none", () => {
  expect(noticeLanguageOf("es", "DE")).toBe("es");
  expect(noticeLanguageOf(null, "AT")).toBe("de");
  expect(noticeLanguageOf("xx", "JP")).toBe("en");
});

test("a letter waits longer after every failure and is given up after the last", () => {
  const now = new Date("2026-01-01T00:00:00Z");
  const waits = Array.from({ length: MAX_ATTEMPTS - 1 }, (_, index) => {
    const after = afterFailure(index + 1, now);
    if (after.state === "dead") throw new Error("given up too early");
    return (after.nextAttemptAt.getTime() - now.getTime()) / 60_000;
  });
  expect(waits).toEqual([1, 3, 9, 27, 81, 243, 480, 480, 480]);
  expect(afterFailure(MAX_ATTEMPTS, now)).toEqual({ state: "dead" });
});

test("a pack is said to come back only where one does", () => {
  const here = decidableRemedies.filter((remedy) => noticeWhenReady(remedy, true) === "sent-back");
  const elsewhere = decidableRemedies.filter((remedy) => noticeWhenReady(remedy, false) === "sent-back");
  expect(here).toEqual(["repair", "replace", "return-as-is", "refuse"]);
  // A refused pack that was never sent, and what is given for one, comes from nowhere; a repaired pack was here.
  expect(elsewhere).toEqual(["repair", "replace"]);
});

/** A clause that only names what the link leads to: no sentence once a page has left the link out. */
const bareClause =
  /^(Which|How|Why|What|The|Wie|Was|Warum|Welche|Der|Qué|En qué|Por qué|Cuáles|El)\b(?!.*(here|hier|aquí|now|jetzt|ahora)).*\.$/;

test("a page without the link ends its message with a sentence, in every language", () => {
  const link = "/dealer/returns/R-26-00001-X";
  for (const language of noticeLanguages) {
    for (const kind of noticeKinds) {
      const notice = composeNotice(kind, language, {
        ...{ reference: "R-26-00001-X", link, until: day("2026-03-05") },
        signals: [{ fault: "sense-wire", observed: 9, expected: 2.4 }],
      });
      const last = noticeOnPage(notice, link).at(-1) ?? "";
      const sentence = last.split(/(?<=[.?!]) /).at(-1) ?? "";
      expect(sentence, `${language} ${kind}: ${last}`).not.toMatch(bareClause);
    }
  }
});
