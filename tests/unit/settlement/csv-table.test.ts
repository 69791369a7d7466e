import { expect, test } from "vitest";
import { csvTable } from "@/lib/settlement/csv-table";

// RFC 4180 (2005), section 2: rows end in CRLF, a field with comma, quote or line break stands in quotes, quotes are doubled.
test("a table is written as RFC 4180 asks", () => {
  expect(
    csvTable(
      ["a", "b"],
      [
        ["1,5", 'say "x"'],
        ["two\nlines", ""],
      ],
    ),
  ).toBe('a,b\r\n"1,5","say ""x"""\r\n"two\nlines",');
});

// OWASP, "CSV Injection": fields that begin with =, +, -, @, tab or carriage return.
test.each(["=1+1", "+1+1", "-1+1", "@SUM(A1)", "\t=1", "\r=1", "=1\nand a second line", "-"])(
  "text that begins like a formula is made plain: %j",
  (text) => {
    const [, field = ""] = csvTable(["a"], [[text]]).split(/\r\n(.*)/s);
    expect(field.replace(/^"/, "").startsWith("'")).toBe(true);
  },
);

test.each([-12.5, "-12.50", "-3", 0])("a number stays a number, also with its minus: %j", (number) => {
  expect(csvTable(["a"], [[number]])).toBe(`a\r\n${number}`);
});
