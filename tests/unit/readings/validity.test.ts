import { expect, test } from "vitest";
import { synchrony } from "@/lib/readings/synchrony";
import { validityMasks } from "@/lib/readings/validity";
import { logOf, packHeaders, packRows, tableText } from "@/tests/support/pack-file";

function logWith(change: (rows: number[][]) => void) {
  const rows = packRows(4, 200);
  change(rows);
  return logOf(tableText(packHeaders(4), rows)).log;
}
function setRow(rows: number[][], row: number, from: number, values: readonly number[]): void {
  rows[row]?.splice(from, values.length, ...values);
}

test("values at the limits are usable and values beyond them are not", () => {
  const log = logWith((rows) => {
    setRow(rows, 3, 3, [0.5, 5, 0.499, 5.001]);
    setRow(rows, 4, 7, [-40]);
    setRow(rows, 5, 7, [150.1]);
  });
  const masks = validityMasks(log);
  expect(masks.cellUsable.map((usable) => usable[3])).toEqual([1, 1, 0, 0]);
  expect([masks.temperatureUsable[0]?.[4], masks.temperatureUsable[0]?.[5]]).toEqual([1, 0]);
  expect([masks.cellsOutOfRange, masks.temperaturesOutOfRange]).toEqual([2, 1]);
});
test("zeros up to the last cell while the pack voltage stands are a truncated row", () => {
  const masks = validityMasks(logWith((rows) => setRow(rows, 3, 5, [0, 0])));
  expect(masks.truncatedRows).toBe(1);
  expect(masks.truncatedRow[3]).toBe(1);
  expect(masks.cellUsable.map((usable) => usable[3])).toEqual([0, 0, 0, 0]);
  expect(masks.cellsOutOfRange).toBe(0);
});
test("zeros with the pack voltage gone too are no truncated row but an event", () => {
  const log = logWith((rows) => {
    for (let row = 2; row < 8; row++) setRow(rows, row, 2, [0]);
    for (let row = 3; row < 8; row++) {
      setRow(rows, row, 1, [7.3, 0]);
      setRow(rows, row, 5, [0, 0]);
    }
  });
  const masks = validityMasks(log);
  expect(masks.truncatedRows).toBe(0);
  expect([...masks.packFellWithCells.slice(2, 9)]).toEqual([0, 1, 1, 1, 1, 1, 0]);
});
test("a truncated row is recognised while a load pulls the pack down, and with a steady difference between sum and pack", () => {
  const log = logWith((rows) => {
    for (const row of rows) row[1] = (row[1] ?? 0) + 2.7;
    setRow(rows, 3, 1, [4 * 3.2 + 2.7, -200, 3.2, 3.2, 3.2, 0]);
  });
  expect(validityMasks(log).truncatedRow[3]).toBe(1);
});
test("the log itself is left as it was logged", () => {
  const log = logWith((rows) => setRow(rows, 3, 3, [65.535]));
  validityMasks(log);
  expect(log.cellVoltagesV[0]?.[3]).toBe(65.535);
});

test("cells read together with the current pass the synchrony test", () => {
  expect(synchrony(logWith(() => undefined))).toMatchObject({ synchronous: true });
});
test("cells that lag three rows behind the current are refused, and the lag is named", () => {
  const fresh = packRows(4, 200);
  const stale = synchrony(
    logWith((rows) => {
      for (let at = 0; at < rows.length; at++) setRow(rows, at, 3, fresh[Math.max(0, at - 3)]?.slice(3, 7) ?? []);
    }),
  );
  expect(stale.synchronous).toBe(false);
  expect(stale.sentence).toMatch(/3 rows later \(r = 1\.00\)/);
});
test("too few steps leave it untold", () => {
  const log = logWith((rows) => {
    for (let at = 0; at < rows.length; at++) setRow(rows, at, 2, [0]);
  });
  expect(synchrony(log)).toMatchObject({ synchronous: false, correlation: null });
});
