import { expect, test } from "vitest";
import { faults } from "@/lib/diagnosis/finding";
import { decisionLetter, letterWords } from "@/lib/letters/decision-letter";
import { type LetterFacts, letterDecisions } from "@/lib/letters/letter";
import { readabilityProblems } from "@/lib/letters/readability";
import { noticeLanguages } from "@/lib/notices/notice-kinds";
import { calendarDate as day } from "@/lib/warranty/calendar";
import { coverOutcomes } from "@/lib/warranty/cover";

const facts = (over: Partial<LetterFacts> = {}): LetterFacts => ({
  language: "en",
  reference: "R-26-00001-X",
  serialShown: "QP-2402-0001-7",
  decidedOn: day("2026-10-20"),
  decision: "refuse",
  concern: "Geht bei Vollgas aus.",
  toldOn: day("2026-10-02"),
  cover: { outcome: "outside-makers-guarantee", startsOn: day("2024-03-15"), endsOn: day("2026-03-15") },
  faults: ["water-ingress"],
  evidence: ["Insulation to the case is 0.2 megaohm; it was 500 when built."],
  reason: "Water stood in the connector housing.",
  term: "Damage by immersion is not covered.",
  alternatives: ["A leaking seal: the seal was pressed and held."],
  objection: { until: day("2026-11-20"), how: "Tell your dealer, or write to the returns desk." },
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
    /object until 20 November 2026\. Somebody who had no part/,
    /legal rights against the seller are not affected/,
    /15 March 2024 to 15 March 2026, both days included/,
    /Geht bei Vollgas aus\./,
  ])
    expect(text).toMatch(words);
});

test.for([
  ["its term", { term: null }, /term of the guarantee/],
  ["its evidence", { evidence: [" "] }, /evidence/],
  ["the alternatives", { alternatives: [] }, /explanations/],
  ["a reason", { reason: "" }, /reason/],
  ["a way to object", { objection: { until: day("2026-11-20"), how: "" } }, /object/],
  ["time to object", { objection: { until: day("2026-10-20"), how: "Write." } }, /object/],
] as const)("a refusal without %s is no letter", ([, over, missing]) => {
  const outcome = decisionLetter(facts(over));
  expect(outcome.kind).toBe("incomplete");
  if (outcome.kind === "incomplete") expect(outcome.missing.join(" ")).toMatch(missing);
});

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
