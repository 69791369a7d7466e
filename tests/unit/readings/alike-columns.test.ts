import { expect, test } from "vitest";
import { foldAlikeColumns } from "@/lib/readings/alike-columns";
import type { ColumnQuestion } from "@/lib/readings/column-questions";

function cell(number: number, why = "the unit is not told"): ColumnQuestion {
  const proposal = { quantity: "cell-voltage", number, unit: "mV", sign: null } as const;
  return { key: `Cell ${number}`, samples: ["3700"], proposal, why };
}

const current: ColumnQuestion = {
  key: "Current",
  samples: ["-3"],
  proposal: { quantity: "current", number: null, unit: "A", sign: null },
  why: "the direction is not told",
};

test("the groups of a pack raise one question, not one each", () => {
  const cells = Array.from({ length: 18 }, (_, index) => cell(index + 1));
  expect(foldAlikeColumns([current, ...cells])).toEqual([[current], cells]);
});

test("a column with a doubt of its own is asked about by itself", () => {
  const cells = [cell(1), cell(2), cell(3), cell(4), cell(5, "the values repeat"), cell(6)];
  expect(foldAlikeColumns(cells).map((run) => run.map(({ proposal }) => proposal.number))).toEqual([
    [1, 2, 3, 4],
    [5],
    [6],
  ]);
});

test("three alike are still asked about one by one, and no column is lost", () => {
  const three = [cell(1), cell(2), cell(3)];
  expect(foldAlikeColumns(three)).toEqual(three.map((one) => [one]));
  expect(foldAlikeColumns([])).toEqual([]);
});

test("columns that are left out share a question only where they share a name", () => {
  const leftOut = (key: string): ColumnQuestion => ({
    key,
    samples: ["1"],
    proposal: { quantity: "ignore", number: null, unit: null, sign: null },
    why: "the heading is not known",
  });
  const flags = [1, 2, 3, 4].map((bit) => leftOut(`Merker ${bit}`));
  const others = ["Drehzahl", "Gang", "Licht", "Hupe"].map(leftOut);
  expect(foldAlikeColumns([...flags, ...others])).toEqual([flags, ...others.map((one) => [one])]);
});
