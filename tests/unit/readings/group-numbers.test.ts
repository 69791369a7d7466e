import { expect, test } from "vitest";
import { foldAlikeColumns } from "@/lib/readings/alike-columns";
import { columnQuestions } from "@/lib/readings/column-questions";
import { bitsToSay, groupNumberIn, groupNumbers, groupsToSay, headingsOfKeys } from "@/lib/readings/group-numbers";
import { decodeText, logOf, packRows, tableText } from "@/tests/support/pack-file";

const upTo = (count: number) => Array.from({ length: count }, (_, at) => at + 1);
const inModules = (cells: readonly number[], from = 1) =>
  cells.flatMap((count, module) =>
    Array.from({ length: count }, (_, cell) => `Module ${module + from} Cell ${cell + from}`),
  );

test("groups have the numbers of their headings, in whatever order the columns stand", () => {
  const fields = upTo(8).map((number) => `Feld ${number}`);
  expect(groupNumbers(fields)).toEqual(upTo(8));
  expect(groupNumbers(fields.toReversed())).toEqual(upTo(8).toReversed());
  expect(groupNumbers(upTo(4).map((number) => `Feld ${number - 1}`))).toEqual(upTo(4));
  expect(groupNumbers(["Feld", "Feld", "Feld"])).toEqual([1, 2, 3]);
  expect(groupNumbers(["Feld 1", "Feld 1", "Feld 2"])).toBeNull();
  expect(groupNumbers(["Column 3", "Column 4", "Column 5"])).toEqual([1, 2, 3]);
});

test("a module and a cell in it that rise together are counted through", () => {
  expect(groupNumbers(inModules([7, 7]))).toEqual(upTo(14));
  expect(groupNumbers(inModules([4, 3], 0))).toEqual(upTo(7));
  expect(groupNumbers(["M1 Z1", "M1 Z2", "M2 Z3", "M2 Z4"])).toEqual(upTo(4));
});

test("a gap, a fall or a third number leaves the count to a person", () => {
  expect(groupNumbers(inModules([3, 3]).filter((_, at) => at !== 3))).toBeNull();
  expect(groupNumbers(inModules([3, 3]).toReversed())).toBeNull();
  expect(groupNumbers(["Cell 1 Module 1", "Cell 1 Module 2", "Cell 3 Module 1"])).toBeNull();
  expect(groupNumbers(["A1 B1 C1", "A1 B2 C1", "A2 B1 C2", "A2 B2 C2"])).toBeNull();
});

test("one heading with two numbers tells no group by itself", () => {
  expect([groupNumberIn("Feld 8 innen"), groupNumberIn("Module 2 Cell 3"), groupNumberIn("Feld")]).toEqual([
    8,
    null,
    null,
  ]);
  expect(headingsOfKeys(["Feld", "Feld (2)", "Temp (2)"])).toEqual(["Feld", "Feld", "Temp (2)"]);
});

test("what the answers leave open of the groups is said", () => {
  const group = (number: number | null) => ({ quantity: "cell-voltage", number, unit: null, sign: null }) as const;
  expect(
    groupsToSay(
      new Map([
        ["a", group(1)],
        ["b", group(null)],
        ["c", group(1)],
      ]),
    ),
  ).toEqual({ unsaid: ["b"], twice: [1] });
  expect(groupsToSay(new Map([["a", group(null)]]))).toEqual({ unsaid: [], twice: [] });
});

test("a flag of its own column needs its bit, and without it is a flag whose meaning is not known", () => {
  const flag = (number: number | null) => ({ quantity: "protection-bit", number, unit: null, sign: null }) as const;
  const asked = new Map([
    ["Alarm", flag(null)],
    ["Fault", flag(2)],
    ["Trip", flag(2)],
  ]);
  expect(bitsToSay(asked)).toEqual({ unsaid: ["Alarm"], twice: [2] });
  expect(bitsToSay(new Map([["Alarm", flag(0)]]))).toEqual({ unsaid: [], twice: [] });
  // As an earlier release kept it: two columns chosen as a flag, without a bit.
  const rows = packRows(3, 40).map((row, at) => [...row.slice(0, 6), at === 20 ? 1 : 0, at === 30 ? 1 : 0]);
  const headings = ["Test Time / s", "Voltage / V", "Current / A", "Cell 1", "Cell 2", "Cell 3", "Alarm", "Trip"];
  const { log } = logOf(tableText(headings, rows), { mapping: { Alarm: flag(null), Trip: flag(null) } });
  expect(log.protectionFlags).toBeNull();
  expect([19, 20, 30].map((row) => log.otherFlags?.[row])).toEqual([0, 1, 1]);
});

test("a file of modules is read, its cells counted through all of them, and says so", () => {
  const rows = packRows(14, 40).map((row) => row.slice(0, 17));
  const headings = inModules([7, 7]).map((name) => `${name} (V)`);
  const { log, summary } = logOf(tableText(["Time (s)", "Voltage (V)", "Current (A)", ...headings], rows));
  expect(log.cellVoltagesV.map((cell) => cell[0])).toEqual(rows[0]?.slice(3));
  expect(summary.remarks.join(" ")).toContain("counted through all modules");
});

test("a pack voltage without cells names the headings that are not known", () => {
  const rows = packRows(3, 20).map((row) => row.slice(0, 6));
  const result = decodeText(tableText(["Time (s)", "Voltage (V)", "Current (A)", "Rot", "Gelb", "Blau"], rows));
  expect(result).toMatchObject({
    kind: "unusable",
    reason: "no-cells",
    sentence: expect.stringContaining("'Rot', 'Gelb', 'Blau'"),
  });
});

test("columns that repeat others are proposed to be left out, so that one click confirms the file", () => {
  const rows = packRows(4, 40).map((row) => [row[0] ?? 0, ...row.slice(3, 7), ...row.slice(3, 7)]);
  const names = upTo(4).map((number) => `Cell ${number}`);
  const text = tableText(["Test Time / s", ...names, ...names], rows);
  const columns = columnQuestions(text.split("\n"), undefined, logOf(text).doubts)?.columns ?? [];
  expect(groupsToSay(new Map(columns.map(({ key, proposal }) => [key, proposal])))).toEqual({ unsaid: [], twice: [] });
  expect(columns.slice(5).map(({ key, proposal, why }) => [key, proposal.quantity, why])).toEqual(
    names.map((name) => [
      `${name} (2)`,
      "ignore",
      "Another column before it has the same meaning. That one is read, and this one left out.",
    ]),
  );
  expect(foldAlikeColumns(columns.slice(5))).toHaveLength(1);
  const mapping = Object.fromEntries(columns.map(({ key, proposal }) => [key, proposal]));
  expect(logOf(text, { mapping }).log.cellVoltagesV).toEqual(logOf(text).log.cellVoltagesV);
});
