import { renderToStaticMarkup } from "react-dom/server";
import { expect, test } from "vitest";
import { ReadingInPlainWords, type ReadingSummary } from "@/app/_readings/reading-in-plain-words";

const file = {
  id: "1",
  fileName: "pack.csv",
  sizeBytes: 1000,
  rows: 100,
  groups: 16,
  rejectedRows: 0,
  rejected: [],
  remarks: [],
};
const finding = (fault: string, safetyClass: string) => ({ fault, safetyClass, groups: [4], evidenceFor: [] });

function page(findings: ReadingSummary["findings"], remedy: string, plainReasons: string[] = []): string {
  const suggestion = { remedy, reasons: [], plainReasons };
  return renderToStaticMarkup(<ReadingInPlainWords summary={{ ...file, findings, suggestion }} />);
}

test("the dealer reads the class of the gravest finding, and its sentence, not only those of the likeliest", () => {
  const text = page([finding("imbalance", "C"), finding("self-discharge", "A1")], "isolate");
  expect(text).toContain("Critical: set apart, in quarantine where it is at the works");
  expect(text).not.toContain("does not count as damaged");
  expect(text).toContain("loses its charge while it stands");
});

test("a wire in second place still says not to charge", () => {
  const text = page([finding("outside-cause", "C"), finding("sense-wire", "B")], "repair");
  expect(text).toContain("Do not charge it.");
  expect(text).toContain("Treated as damaged or defective");
});

test("where the readings cannot tell, or hold no finding, the pack is never said to be undamaged", () => {
  for (const findings of [[], [finding("imbalance", "C")]]) {
    const text = page(findings, "cannot-tell");
    expect(text).toContain("Cannot be judged yet");
    expect(text).not.toContain("does not count as damaged");
  }
});

test("a sentence is said once", () => {
  const sentence = "The pack was emptied further than its cells bear. Do not charge it.";
  const text = page([finding("over-discharge", "B")], "replace", [sentence]);
  expect(text.split(sentence)).toHaveLength(2);
});
