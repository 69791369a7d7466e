import { expect, test } from "vitest";
import { unusedExports } from "@/tests/support/unused-exports";

const given = "export const day = 1;\nexport function night() {}\nexport type Light = 1;\n";
const askedOf = (text: string, file = "tests/b.test.ts") =>
  unusedExports(
    new Map([
      ["lib/a.ts", given],
      [file, text],
    ]),
  );

test("a value nobody imports is named, a type is not", () => {
  expect(askedOf("")).toEqual([
    "lib/a.ts: day is exported and no other file imports it",
    "lib/a.ts: night is exported and no other file imports it",
  ]);
});

test.each([
  ["by name", 'import { day, night as late } from "@/lib/a";'],
  ["whole", 'import * as a from "../lib/a";'],
  ["later", 'const a = await import("@/lib/a");'],
  ["to be given on", 'export { day, night } from "@/lib/a";'],
])("one that is imported %s is in use", (_, text) => {
  expect(askedOf(text)).toEqual([]);
});

test("what the framework asks a page for by name is in use", () => {
  const page = "export const metadata = {};\nexport default function Page() {}";
  expect(unusedExports(new Map([["app/page.tsx", page]]))).toEqual([]);
});
