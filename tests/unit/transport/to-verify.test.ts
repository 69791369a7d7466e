import { readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { lettersToVerify } from "@/lib/letters/letters-to-verify";
import { wordsDe } from "@/lib/letters/words-de";
import { wordsEn } from "@/lib/letters/words-en";
import { wordsEs } from "@/lib/letters/words-es";
import { noticesToVerify } from "@/lib/notices/notices-to-verify";
import { fromMemory, houseRule, practice, readIn } from "@/lib/transport/sourced-text";
import { toVerifyIn } from "@/lib/transport/to-verify";
import { lawToVerify } from "@/lib/warranty/law-to-verify";
import { lawSpokenBeside } from "@/lib/warranty/legal-clock";
import { legalDuties } from "@/lib/warranty/legal-duties";
import { REFUND_MAY_BE_DUE } from "@/lib/warranty/repeat-return";

test("a sentence from memory or read somewhere is found wherever it lies in a table, and no practice or rule of the house", () => {
  const memory = { kind: "from-memory", compareWith: "49 CFR 173" };
  const table = {
    orders: [
      { level: fromMemory("ADR 4.1.4.1", "Packing group II."), marks: [readIn("ADR 5.2.1", "The mark."), null] },
    ],
    steps: [{ id: "register", ...fromMemory("Article 38", "It was entered.") }, practice("It is watched.")],
    note: houseRule("Never by air."),
    height: { ...readIn("a guide", "FRAGILE"), letterHeightMm: 12, heightMark: memory },
  };
  expect(toVerifyIn("Rules", "7", table)).toEqual([
    { table: "Rules", version: "7", sentence: "Packing group II.", mark: "from memory: verify in ADR 4.1.4.1" },
    {
      table: "Rules",
      version: "7",
      sentence: "The mark.",
      mark: "read in ADR 5.2.1: compare with the text in force",
    },
    { table: "Rules", version: "7", sentence: "It was entered.", mark: "from memory: verify in Article 38" },
    { table: "Rules", version: "7", sentence: "FRAGILE", mark: "read in a guide: compare with the text in force" },
    {
      table: "Rules",
      version: "7",
      sentence: "FRAGILE: letters at least 12 mm",
      mark: "from memory: verify in 49 CFR 173",
    },
  ]);
});

test("every row of consumer law is told, with its sources, because none is confirmed", () => {
  const told = lawToVerify(legalDuties);
  expect(told.filter(({ table }) => table.startsWith("The seller's legal duty"))).toHaveLength(legalDuties.length);
  const marks = told.map(({ mark }) => mark).join("\n");
  for (const { sources } of legalDuties) for (const { named } of sources) expect(marks).toContain(named);
  expect(told.every(({ mark, sentence }) => /confirmed by counsel/.test(mark) && sentence !== "")).toBe(true);
});

test("what letters and notices say of rights is told in each of the three languages", () => {
  const told = [...lettersToVerify(), ...noticesToVerify()].map(({ sentence }) => sentence);
  for (const said of [wordsEn.rights, wordsEn.decisions.refuse]) expect(told).toContain(`en: ${said}`);
  for (const said of [wordsDe.rights, wordsDe.finding.noDecision]) expect(told).toContain(`de: ${said}`);
  expect(told).toContain(`es: ${wordsEs.rights}`);
  expect(told).toContain("de: Gesetzliche Rechte gegenüber dem Verkäufer bleiben davon unberührt.");
});

test("what is said of the law beside its table is told too: business buyers, days that stand still, a refund after a failed repair", () => {
  const told = lawToVerify(legalDuties).map(({ sentence }) => sentence);
  expect(told).toEqual(expect.arrayContaining(Object.values(lawSpokenBeside)));
  expect(told.some((sentence) => sentence.includes(REFUND_MAY_BE_DUE))).toBe(true);
});

// A table with such sentences that is named nowhere in the list would be missed for ever.
test("every module that holds sentences from memory is one the list is made from", () => {
  const files = readdirSync("lib", { recursive: true, encoding: "utf8" }).filter((name) => name.endsWith(".ts"));
  const holds = (name: string) => /\bfromMemory\(/.test(readFileSync(path.join("lib", name), "utf8"));
  const own = ["transport/sourced-text.ts"];
  const list = readFileSync("lib/data/to-verify.ts", "utf8");
  for (const name of files.filter(holds)) {
    if (own.includes(name)) continue;
    expect(list, name).toContain(`@/lib/${name.replace(/\.ts$/, "")}"`);
  }
});
