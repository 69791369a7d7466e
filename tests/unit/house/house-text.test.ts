import { describe, expect, test } from "vitest";
import { refusedInText } from "@/tests/support/house-text";

describe.each([
  ["any as a type", "lib/a.ts", "let word: any;", "// what any reader sees"],
  ["any as an assertion", "lib/a.ts", "const one = two as any;", "const many = two;"],
  ["any as a parameter of a type", "lib/a.ts", "new Set<any>();", "new Set<string>();"],
  ["a suppression in a comment", "lib/a.ts", "  // @ts-ignore", "  // the compiler is right"],
  ["a suppression behind code", "lib/a.ts", "call(); // @ts-expect-error because", "call(); // because"],
  ["a suppression of a whole file", "tests/a.test.ts", "// @ts-nocheck", "// @vitest-environment node"],
  ["a test alone", "tests/a.test.ts", 'test.only("holds", () => {});', 'test("holds", () => {});'],
  ["a table of tests alone", "tests/a.test.ts", "test.only.each([1])", "test.each([1])"],
  ["a group switched off", "tests/a.test.ts", "describe.skip.for([1])", "describe.for([1])"],
  ["a test switched off behind a condition", "tests/a.test.ts", "it.concurrent.skip(", "it.skipIf(noServer)("],
  ["a test to be written", "tests/a.test.ts", 'it.todo("holds")', 'it("holds", () => {})'],
  ["our own code mocked", "tests/a.test.ts", 'vi.mock("@/lib/stats/mean")', "vi.useFakeTimers()"],
  ["the environment read", "lib/stats/a.ts", "process.env.PORT", "environment().port"],
  ["a file behind the door that a browser could get", "lib/data/a.ts", "export {};", 'import "server-only";'],
  ["one that says so and is excused from it", "lib/data/env.ts", 'import "server-only";', "export {};"],
  ["one of a worker thread that cannot load", "lib/data/reading-worker/a.ts", 'import "server-only";', "export {};"],
  ["the clock read in the domain", "lib/stats/a.ts", "const now = new Date();", "const then = new Date(text);"],
  ["the clock read in the domain as a number", "lib/stats/a.ts", "Date.now()", "asOf.getTime()"],
  ["a key drawn in the domain", "lib/returns/a.ts", "crypto.randomUUID()", "newKey()"],
  ["chance in the domain", "lib/stats/a.ts", "Math.random()", "random()"],
  ["a long file", "lib/a.ts", "\n".repeat(300), "\n".repeat(299)],
])("%s", (_, file, refused, allowed) => {
  test("is refused", () => expect(refusedInText(file, refused)).toHaveLength(1));
  test("its harmless twin passes", () => expect(refusedInText(file, allowed)).toEqual([]));
});

test("the environment may be read where it is read for everybody, and in tests", () => {
  const reading = "process.env.PORT";
  expect(["lib/data/env.ts", "tests/run.ts", "seed/demo.ts"].flatMap((file) => refusedInText(file, reading))).toEqual(
    [],
  );
});

test("the clock may be read at the door to the database and on a page", () => {
  expect(
    ["lib/data/a.ts", "lib/auth/a.ts", "app/a.ts"].flatMap((file) =>
      refusedInText(file, 'import "server-only"; Date.now()'),
    ),
  ).toEqual([]);
});

test("a refusal names file and line", () => {
  expect(refusedInText("lib/a.ts", "fine\nlet word: any;")).toEqual(["lib/a.ts:2: `any` switches the compiler off"]);
});
