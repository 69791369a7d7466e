import fc from "fast-check";
import Papa from "papaparse";
import { expect, test } from "vitest";
import { createColumnTable } from "@/lib/readings/column-table";
import { createRowReader, noRowsYet } from "@/lib/readings/row-reader";
import { splitLine } from "@/lib/readings/split-line";

function readRows(text: string, fields: number, chunkBytes = text.length + 1) {
  const rejected: string[] = [];
  const table = createColumnTable(fields, 1);
  const reader = createRowReader(
    {
      delimiter: ",",
      decimalMark: ".",
      slotOfField: Int16Array.from({ length: fields }, (_, at) => at),
      textSlots: [],
      headerLine: "",
    },
    table,
    {
      reject: (line, reason) => rejected.push(`${line}: ${reason}`),
      readField: (_slot, field) => (field === "" ? Number.NaN : Number(field)),
    },
    { ...noRowsYet, nextLine: 1 },
  );
  const bytes = new TextEncoder().encode(text);
  for (let at = 0; at < bytes.length; at += chunkBytes) reader.push(bytes.subarray(at, at + chunkBytes));
  reader.end();
  const rows = Array.from({ length: table.rows }, (_, row) => table.columns.map((column) => column[row]));
  return { rows, rejected };
}

test("every decimal is read to the same double as by the language itself", () => {
  const decimal = fc.oneof(
    fc.double({ noNaN: true, noDefaultInfinity: true }).map(String),
    fc.double({ min: -1e6, max: 1e6, noNaN: true }).map((value) => value.toFixed(4)),
    fc.bigInt({ min: 0n, max: 10n ** 20n }).map(String),
    fc.tuple(fc.nat(99_999_999), fc.nat(99_999_999)).map(([whole, part]) => `${whole}.${part}`),
  );
  fc.assert(
    fc.property(fc.array(decimal, { minLength: 1, maxLength: 5 }), (fields) => {
      expect(readRows(`${fields.join(",")}\n`, fields.length).rows).toEqual([fields.map(Number)]);
    }),
    { numRuns: 3000 },
  );
});

test("rows are split as papaparse splits them, however the text is cut", () => {
  const field = fc.constantFrom("", "1", "-2.5", "+3", "4e2", " 5 ", '"6"', '"7.25"', ".5", "8.");
  const table = fc
    .integer({ min: 2, max: 5 })
    .chain((width) =>
      fc.array(fc.array(field, { minLength: width, maxLength: width }), { minLength: 1, maxLength: 8 }),
    );
  fc.assert(
    fc.property(
      table,
      fc.constantFrom("\n", "\r\n", "\r"),
      fc.integer({ min: 1, max: 9 }),
      (rows, lineEnd, chunkBytes) => {
        const text = rows.map((row) => row.join(",") + lineEnd).join("");
        const expected = Papa.parse<string[]>(text, { delimiter: ",", newline: lineEnd, skipEmptyLines: true }).data;
        const wanted = expected
          .filter((row) => row.some((value) => value.trim() !== ""))
          .map((row) => row.map((value) => (value.trim() === "" ? Number.NaN : Number(value))));
        expect(readRows(text, rows[0]?.length ?? 0, chunkBytes).rows).toEqual(wanted);
      },
    ),
    { numRuns: 500 },
  );
});

test("a line is split as papaparse splits it", () => {
  const field = fc.constantFrom("a", "", "1.5", '"q"', '"a;b"', '"say ""so"""', "Cell 1 / V", "°C");
  fc.assert(
    fc.property(fc.array(field, { minLength: 2, maxLength: 8 }), (fields) => {
      const line = fields.join(";");
      expect(splitLine(line, ";")).toEqual(Papa.parse<string[]>(line, { delimiter: ";" }).data[0]);
    }),
  );
});
