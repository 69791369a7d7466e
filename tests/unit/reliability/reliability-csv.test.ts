import Papa from "papaparse";
import { expect, test } from "vitest";
import { groupReports } from "@/lib/reliability/group-report";
import { reliabilityCsv } from "@/lib/reliability/reliability-csv";
import { COUNTING_RULES_VERSION } from "@/lib/reliability/rule-version";
import { tallyLives } from "@/lib/reliability/tally-lives";
import { afterSale, failedAfter, packsLike, unitHistory } from "@/tests/support/pack-dates";

const [report] = groupReports(
  "revision",
  ["A"],
  tallyLives([
    ...Array.from({ length: 6 }, (_, i) =>
      unitHistory(`F${i}`, { failure: failedAfter(100 + i), replacedOn: afterSale(110 + i) }),
    ),
    ...packsLike(82),
    ...packsLike(32, { soldOn: null }),
  ]),
);

function rowsOf(modelName: string): Record<string, string>[] {
  const csv = reliabilityCsv(
    "2026-11-25",
    "revision",
    report === undefined ? [] : [{ ...report, modelNames: [modelName], effect: null }],
  );
  return Papa.parse<Record<string, string>>(csv, { header: true }).data;
}

test("each row carries the data date, the counts and the share with its limits", () => {
  const [row] = rowsOf("Model M");
  expect(row).toMatchObject({
    "data date": "2026-11-25",
    model: "Model M",
    "counting rules": COUNTING_RULES_VERSION,
    "grouped by": "revision",
    group: "A",
    "packs built": "120",
    "confirmed failures": "6",
    "failures by 12 months": "6",
  });
  expect(Number(row?.["share failed by 12 months"])).toBeCloseTo(6 / 88, 12);
});

test("what cannot be told is an empty field, not a zero", () => {
  const [row] = rowsOf("Model M");
  expect(row?.["share failed by 24 months"]).toBe("");
  expect(row?.["packs at risk at 24 months"]).toBe("0");
});

test.each(["=1+1", "+1", "-1", "@A1", "\t=1", "\r=1"])(
  "a text that begins like a formula is made plain: %j",
  (text) => {
    expect(rowsOf(text)[0]?.model?.startsWith("'")).toBe(true);
  },
);
