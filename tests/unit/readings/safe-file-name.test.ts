import fc from "fast-check";
import { expect, test } from "vitest";
import { safeFileName } from "@/lib/readings/safe-file-name";

test.each([
  ["BR2342-27.csv", "BR2342-27.csv"],
  ["Messung März.CSV", "Messung-Marz.csv"],
  ["../../etc/passwd", "etc-passwd.csv"],
  ['a"; filename=evil.exe', "a-filename-evil.exe.csv"],
  ["readings.html", "readings.html.csv"],
  ["читання", "readings.csv"],
  ["", "readings.csv"],
])("%j is saved as %s", (name, safe) => {
  expect(safeFileName(name)).toBe(safe);
});

test("no name breaks a header, leaves its folder or hides", () => {
  fc.assert(
    fc.property(fc.string({ unit: "binary", maxLength: 120 }), (name) =>
      /^[A-Za-z0-9_][A-Za-z0-9._-]{0,103}[.]csv$|^[A-Za-z0-9_][.]csv$/.test(safeFileName(name)),
    ),
  );
});
