import fc from "fast-check";
import { expect, test } from "vitest";
import { isReturnReference, makeReturnReference, readReturnReference } from "@/lib/returns/return-reference";

const year = fc.integer({ min: 2000, max: 2099 });
const sequence = fc.integer({ min: 1, max: 9_999_999 });

test("a reference holds the year, the number within it, and a check character", () => {
  expect(makeReturnReference(2026, 417)).toBe("R-26-00417-K");
});

test("a reference made is read back, however it is typed", () => {
  fc.assert(
    fc.property(year, sequence, (inYear, number) => {
      const reference = makeReturnReference(inYear, number);
      const read = { kind: "reference", reference, year: inYear, sequence: number };
      expect(readReturnReference(reference)).toEqual(read);
      expect(readReturnReference(reference.replaceAll("-", " ").toLowerCase())).toEqual(read);
      expect(readReturnReference(`https://bench.example/returns/${reference}`)).toEqual(read);
    }),
  );
});

test("a mistyped digit is refused, not corrected: a wrong guess would open another return", () => {
  expect(readReturnReference("R-26-00418-K")).toEqual({ kind: "check-failed" });
  expect(readReturnReference("R-26-OO417-K")).toEqual({ kind: "not-a-reference" });
});

test("nothing, and something else, are told apart", () => {
  expect(readReturnReference("  ")).toEqual({ kind: "empty" });
  for (const other of ["417", "TR24170392S", "R-26-417-K"]) {
    expect(readReturnReference(other), other).toEqual({ kind: "not-a-reference" });
  }
});

test("years and numbers outside their range make no reference", () => {
  for (const [wrongYear, number] of [
    [1999, 1],
    [2100, 1],
    [2026, 0],
    [2026, -5],
    [2026, 10_000_000],
    [2026, 1.5],
  ] as const) {
    expect(() => makeReturnReference(wrongYear, number), `${wrongYear} ${number}`).toThrow(RangeError);
  }
  expect(isReturnReference("R-26-00417-J")).toBe(false);
});
