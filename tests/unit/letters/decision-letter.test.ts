import { expect, test } from "vitest";
import { faults } from "@/lib/diagnosis/finding";
import { decisionLetter } from "@/lib/letters/decision-letter";
import { findingLetter } from "@/lib/letters/finding-letter";
import { type LetterFacts, letterDecisions } from "@/lib/letters/letter";
import { letterDecisionOf } from "@/lib/letters/letter-decision";
import { letterWords } from "@/lib/letters/letter-words";
import { readabilityProblems } from "@/lib/letters/readability";
import { tellTest } from "@/lib/letters/tell-test";
import { noticeLanguages } from "@/lib/notices/notice-kinds";
import { calendarDate as day } from "@/lib/warranty/calendar";
import { coverOutcomes } from "@/lib/warranty/cover";

const facts = (over: Partial<LetterFacts> = {}): LetterFacts => ({
  language: "en",
  reference: "R-26-00001-X",
  serialShown: "QP-2402-0001-7",
  decidedOn: day("2026-10-20"),
  decision: "refuse",
  refund: { minor: 4000, currency: "EUR", paidBeforeMinor: 0 },
  isGoodwill: false,
  concern: "Geht bei Vollgas aus.",
  toldOn: day("2026-10-02"),
  cover: { outcome: "outside-makers-guarantee", startsOn: day("2024-03-15"), endsOn: day("2026-03-15") },
  faults: ["water-ingress"],
  evidence: ["Insulation to the case is 0.2 megaohm; it was 500 when built."],
  readings: [],
  reason: "Water stood in the connector housing.",
  term: "Damage by immersion is not covered.",
  alternatives: ["A leaking seal: the seal was pressed and held."],
  comesBack: null,
  objection: { until: day("2026-11-20"), days: 30, how: "Tell your dealer, or write to the returns desk." },
  ...over,
});

function letterOf(over: Partial<LetterFacts> = {}) {
  const outcome = decisionLetter(facts(over));
  if (outcome.kind !== "letter") throw new Error(outcome.missing.join(" "));
  return outcome.letter;
}
const textOf = (over: Partial<LetterFacts> = {}) =>
  letterOf(over)
    .parts.flatMap(({ heading, paragraphs, points }) => [heading, ...paragraphs, ...points])
    .join("\n");

test("a refusal names its term, its evidence, the alternatives, the way to object, and that rights stand", () => {
  const text = textOf();
  for (const words of [
    /Damage by immersion is not covered/,
    /0\.2 megaohm/,
    /A leaking seal/,
    /object until 20 November 2026\. Somebody who did not propose this decision/,
    /legal rights against the seller are not affected/,
    /15 March 2024 to 15 March 2026, both days included/,
    /Geht bei Vollgas aus\./,
  ])
    expect(text).toMatch(words);
});

test("what the readings show is told in the letter's language, and the program's English sentence stands beside it, said to be English", () => {
  const readings = ["Group 7 sags 410 mV more than its neighbours at 80 A."];
  const told = { decision: "repair", faults: ["high-resistance-joint"], evidence: [], readings } as const;
  for (const [language, isEnglish] of [
    ["de", /Notizen der Werkstatt, auf Englisch:/],
    ["es", /Notas del taller, en inglés:/],
  ] as const) {
    const text = textOf({ ...told, language });
    const sign = letterWords[language].finding.signs["high-resistance-joint"];
    expect(text).toContain(sign);
    expect(sign).not.toBe(letterWords.en.finding.signs["high-resistance-joint"]);
    expect(text).toMatch(isEnglish);
    expect(text.indexOf(sign)).toBeLessThan(text.indexOf("Group 7 sags"));
    expect(textOf({ language })).not.toMatch(isEnglish);
  }
  const refused = { decision: "returned-unchanged", evidence: [], readings } as const;
  expect(decisionLetter(facts(refused)).kind).toBe("letter");
});

test("what the customer gives back of what was given before stands in the letter, with the day; that nothing does is said too", () => {
  const comesBack = { by: day("2026-12-24"), words: "The dealer sends the new pack in." };
  for (const [language, until] of [
    ["en", "by 24 December 2026"],
    ["de", "bis zum 24. Dezember 2026"],
    ["es", "antes del 24 de diciembre de 2026"],
  ] as const) {
    const text = textOf({ language, comesBack });
    expect(text).toContain(until);
    expect(text).toContain(comesBack.words);
  }
  const kept = textOf({ comesBack: { by: null, words: "The new pack is scrap." } });
  expect(kept).toMatch(/nothing has to come back.*\nThe new pack is scrap\./);
  expect(textOf()).not.toMatch(/given before/);
});

test.for([
  ["its term", { term: null }, /term of the guarantee/],
  ["its evidence", { evidence: [" "] }, /evidence/],
  ["the alternatives", { alternatives: [] }, /explanations/],
  ["a reason", { reason: "" }, /reason/],
  ["a way to object", { objection: { until: day("2026-11-20"), days: 30, how: "" } }, /object/],
  ["time to object", { objection: { until: day("2026-10-20"), days: 30, how: "Write." } }, /object/],
] as const)("a refusal without %s is no letter", ([, over, missing]) => {
  const outcome = decisionLetter(facts(over));
  expect(outcome.kind).toBe("incomplete");
  if (outcome.kind === "incomplete") expect(outcome.missing.join(" ")).toMatch(missing);
});

test.for(["refuse", "returned-unchanged", "dispose-safely"] as const)(
  "%s leaves the customer without a remedy, so its letter names what a refusal names",
  (decision) => {
    expect(decisionLetter(facts({ decision, term: null, alternatives: [] }))).toMatchObject({
      kind: "incomplete",
      missing: [expect.stringMatching(/term/), expect.stringMatching(/explanations/)],
    });
    expect(textOf({ decision })).toMatch(/A leaking seal/);
  },
);

test("every decision in every language, under every cover, reads without a code or an overlong sentence", () => {
  for (const language of noticeLanguages) {
    for (const decision of letterDecisions) {
      for (const outcome of coverOutcomes) {
        const cover = { outcome, startsOn: null, endsOn: null };
        expect(readabilityProblems(letterOf({ language, decision, cover }))).toEqual([]);
      }
    }
    for (const fault of faults) expect(textOf({ language, faults: [fault] })).not.toContain(`: ${fault}`);
  }
});

test("a refund promises its amount and nothing more, and says what of it was paid before", () => {
  expect(textOf({ decision: "refund" })).toMatch(/We pay back 40\.00 EUR for the pack QP-2402-0001-7\./);
  expect(textOf({ decision: "refund" })).not.toMatch(/price|before\./);
  const refund = { minor: 123450, currency: "EUR", paidBeforeMinor: 4000 };
  expect(textOf({ language: "de", decision: "refund", refund })).toMatch(
    /Wir erstatten 1\.234,50 EUR für den Akku .*\nDavon wurden 40,00 EUR schon früher erstattet\./,
  );
  expect(textOf({ language: "es", decision: "refund", refund })).toMatch(/1\.?234,50 EUR/);
  expect(decisionLetter(facts({ decision: "refund", refund: null }))).toEqual({
    kind: "incomplete",
    missing: ["How much is paid back."],
  });
});

test("what is given although it is not owed is named beside what it is", () => {
  const text = textOf({ decision: "repair", isGoodwill: true });
  expect(text).toMatch(/We repair the pack/);
  expect(text).toMatch(/goodwill, beyond what the guarantee asks/);
});

const capacityMeasured = {
  value: 31.2,
  expandedUncertainty: 0.13,
  unit: "Ah",
  lower: 32,
  upper: null,
  instrument: "C-01",
} as const;

test("a test is told with value, uncertainty, limits and instrument in every language, and that it is in doubt", () => {
  const told = { title: "Capacity", verdict: "outside", measured: capacityMeasured, isInDoubt: true } as const;
  expect(tellTest("de", told)).toBe(
    "Capacity: 31,2 ± 0,13 Ah; Grenzen: 32 Ah oder mehr; Messgerät C-01. Außerhalb der Grenzen. Zweifelhaft: Das Messgerät ging, wie sich später zeigte, falsch; es wird neu gemessen.",
  );
  const between = { ...capacityMeasured, unit: "V", value: 58, lower: 44.8, upper: 67.2 };
  expect(tellTest("es", { ...told, verdict: "cannot-tell", measured: between, isInDoubt: false })).toBe(
    "Capacity: 58 ± 0,13 V; límites: de 44,8 a 67,2 V; instrumento C-01. Demasiado cerca de un límite para decirlo.",
  );
  expect(tellTest("en", { ...told, measured: { ...between, lower: null }, isInDoubt: false })).toMatch(
    /limits: 67\.2 V or less/,
  );
});

test("the letter of what was found names fault, group and reading, and says what the readings cannot tell", () => {
  const found = {
    reference: "R-26-00001-X",
    serialShown: "QP-2402-0001-7",
    concern: "Geht bei Vollgas aus.",
    toldOn: day("2026-10-02"),
    file: { name: "log.csv", takenOn: day("2026-10-03") },
    findings: [
      { fault: "weak-cell", groups: [7], confidence: 0.9, readings: ["Group 7 reached its lower limit first."] },
      { fault: "imbalance", groups: [], confidence: 0.5, readings: [] },
      { fault: "water-ingress", groups: [], confidence: 0.1, readings: ["Not worth a word."] },
    ],
    capacity: null,
    tests: [
      { title: "Capacity", verdict: "outside", measured: capacityMeasured, isInDoubt: false },
      { title: "Look at it from all sides", verdict: "inside", measured: null, isInDoubt: false },
    ],
    confirmedFault: null,
  } as const;
  const textIn = (language: "en" | "de" | "es", over: object = {}) => {
    const letter = findingLetter({ ...found, language, ...over });
    expect(readabilityProblems(letter)).toEqual([]);
    return letter.parts.flatMap(({ heading, paragraphs, points }) => [heading, ...paragraphs, ...points]).join("\n");
  };
  const text = textIn("en");
  expect(text).toMatch(/Almost certainly a weak cell group \(group 7\)/);
  expect(text).toMatch(/Perhaps cell groups that are charged unevenly/);
  expect(text).toMatch(/log\.csv, sent in on 3 October 2026/);
  expect(text).toMatch(/cannot be told from these readings/);
  expect(text).toMatch(/Group 7 reached its lower limit first/);
  expect(text).toContain(
    "Capacity: 31.2 ± 0.13 Ah; limits: 32 Ah or more; instrument C-01. Outside the limits.\nLook at it from all sides: as it should be.",
  );
  expect(text).toMatch(/Nothing is confirmed yet/);
  expect(text).not.toMatch(/water|worth a word/);
  expect(textIn("de", { capacity: { foundAh: 31.25, ratedAh: 40 } })).toMatch(/31,3 Ah; angegeben sind 40 Ah/);
  expect(textIn("es", { file: null, findings: [] })).toMatch(/No se envió ningún registro/);
  expect(textIn("en", { confirmedFault: "weak-cell" })).toMatch(/Confirmed when the pack was examined: a weak cell/);
  // Found by hand where no readings were sent: said once, and not beside "nothing shows".
  const byHand = textIn("en", { file: null, findings: [], confirmedFault: "main-lead" });
  expect(byHand).not.toMatch(/Nothing that we could name/);
  expect(byHand.match(/Confirmed when the pack was examined/g)).toHaveLength(1);
  // Nobody looked at the pack yet: that nothing shows in what was measured would be untrue.
  const unread = { file: null, findings: [], tests: [] };
  for (const [language, nothingMeasured, nothingDecided] of [
    ["en", /Nothing was measured on the pack QP-2402-0001-7 yet/, /Nothing is confirmed yet, and nothing is decided/],
    ["de", /Am Akku QP-2402-0001-7 wurde noch nichts gemessen/, /Noch ist nichts bestätigt und nichts entschieden/],
    ["es", /En la batería QP-2402-0001-7 todavía no se ha medido nada/, /no hay nada confirmado ni decidido/],
  ] as const) {
    const before = textIn(language, unread);
    expect(before, language).toMatch(nothingMeasured);
    expect(before, language).toMatch(nothingDecided);
    expect(before, language).not.toMatch(
      /could name|benennen|podamos nombrar|readings show|zeigen die Messwerte|muestran las lecturas/,
    );
  }
  // A test at the bench is something that was measured.
  expect(textIn("en", { file: null, findings: [] })).toMatch(/Nothing that we could name/);
  const nobodyKnows = { file: null, findings: [], confirmedFault: "unknown" };
  expect(textIn("en", nobodyKnows)).toMatch(/Nothing that we could name/);
});

test.each([
  ["en", /Confirmed when the pack was examined: damage, swelling or a leak of the pack/],
  ["de", /Die Untersuchung bestätigte eine Beschädigung, Aufblähung oder undichte Stelle am Akku/],
  ["es", /daños, hinchazón o una fuga en la batería/],
] as const)(
  "what was seen on a pack, which may be swelling, is called no damage from outside (%s)",
  (language, words) => {
    const letter = findingLetter({
      language,
      reference: "R-26-00001-X",
      serialShown: "QP-2402-0001-7",
      concern: "It does not fit any more.",
      toldOn: day("2026-10-02"),
      file: null,
      findings: [],
      capacity: null,
      tests: [],
      confirmedFault: "mechanical-damage",
    });
    const text = letter.parts.flatMap(({ paragraphs, points }) => [...paragraphs, ...points]).join("\n");
    expect(text).toMatch(words);
    expect(text).not.toMatch(/from outside|von außen|desde fuera/);
    expect(readabilityProblems(letter)).toEqual([]);
  },
);

test("a code or an overlong sentence in the staff's words is found; the customer's own words are left alone", () => {
  expect(readabilityProblems(letterOf({ reason: "Outcome was in-cover-by-grace." }))).toEqual([
    "“in-cover-by-grace” is a code, not a word.",
  ]);
  expect(readabilityProblems(letterOf({ reason: Array(40).fill("word").join(" ") }))).toHaveLength(1);
  expect(readabilityProblems(letterOf({ concern: "error_code bms_fault" }))).toEqual([]);
});

test("every language has the same placeholders in the same place, and words of its own", () => {
  const flat = (value: unknown, path: string): [string, string][] =>
    typeof value === "string"
      ? [[path, value]]
      : Object.entries(value ?? {}).flatMap(([key, inner]) => flat(inner, `${path}/${key}`));
  const placeholders = (text: string) => (text.match(/\{[a-z]+\}/g) ?? []).sort();
  const english = new Map(flat(letterWords.en, ""));
  for (const language of ["de", "es"] as const) {
    for (const [path, text] of flat(letterWords[language], "")) {
      expect(placeholders(text), path).toEqual(placeholders(english.get(path) ?? ""));
      expect(text, path).not.toBe(english.get(path));
    }
  }
});

test("a pack sent on to another maker is said to be sound only where that was found", () => {
  expect(letterDecisionOf("redirect", "outside-cause")).toBe("other-maker");
  expect(letterDecisionOf("redirect", "no-fault-found")).toBe("other-maker");
  for (const fault of ["weak-cell", "unknown"]) expect(letterDecisionOf("redirect", fault), fault).toBe("refuse");
});
