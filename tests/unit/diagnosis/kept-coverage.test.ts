import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import { keptCoverage } from "@/lib/diagnosis/kept-coverage";
import { suggest } from "@/lib/diagnosis/suggest";
import { buildLog, constant, evenTimes, probe, summaryOf } from "../../support/log-builder";
import { plainModel } from "../../support/plain-model";

/** A pack that only stands, sound in all it shows; with one group that falls by 2 mV a day, or a probe that leaps to heat last. */
function standing(rows: number, { fallV = 0, endsAtC = 24 } = {}) {
  const intervalS = 600;
  const log = buildLog({
    timeS: evenTimes(rows, intervalS),
    currentA: constant(rows, 0),
    packVoltageV: Float64Array.from({ length: rows }, (_, row) => 16 * 3.9 - (fallV * row * intervalS) / 86_400),
    cellVoltagesV: Array.from({ length: 16 }, (_, group) =>
      Float64Array.from({ length: rows }, (_, row) => 3.9 - (group === 4 ? (fallV * row * intervalS) / 86_400 : 0)),
    ),
    temperatures: [1, 2].map((number) =>
      probe(
        `Temperature T${number}`,
        Float64Array.from({ length: rows }, (_, row) => (number === 1 && row === rows - 1 ? endsAtC : 24)),
      ),
    ),
  });
  return diagnose({ log, summary: summaryOf(log), model: plainModel });
}

const files = [
  ["twelve rows", standing(12)],
  ["four days of rest", standing(600)],
  ["a group to be watched", standing(1000, { fallV: 0.002 })],
  ["a probe that leaps in the last row", standing(600, { endsAtC: 98 })],
] as const;

test.each(files)(
  "a suggestion made anew from what is kept says what it said when the file was judged: %s",
  (_, judged) => {
    const { findings, suggestion, unseen } = judged;
    const anew = suggest(findings, keptCoverage(suggestion.missing, unseen), 0.5);
    expect(anew).toEqual(suggestion);
  },
);

test.each(files)("the same from what rules before 2026-11-u kept, which had one list alone: %s", (_, judged) => {
  const { findings, suggestion, unseen } = judged;
  const asKeptThen = unseen.map(({ fault, because, next }) => ({ fault, because, next }));
  expect(suggest(findings, keptCoverage(suggestion.missing, asKeptThen), 0.5)).toEqual(suggestion);
});

test("the files hold what they are made for: reasons that alone keep from sound, and classes merely not seen", () => {
  const [, , watched, hot] = files.map(([, { unseen }]) => unseen.filter(({ keepsFromSound }) => keepsFromSound));
  expect(watched?.some(({ because }) => because.startsWith("Watch group 5"))).toBe(true);
  expect(hot?.map(({ fault }) => fault)).toContain("acute-event");
  for (const [, { unseen }] of files) expect(unseen.some(({ keepsFromSound }) => !keepsFromSound)).toBe(true);
});

test("a file of twelve rows asks for one test, not for all that could be logged", () => {
  const { findings, suggestion } = standing(12);
  expect(findings).toEqual([]);
  expect(suggestion.remedy).toBe("cannot-tell");
  expect(suggestion.reasons.filter((one) => one.startsWith("To be able to tell:"))).toHaveLength(1);
  expect(suggestion.reasons.join(" ")).not.toContain("Damage to the case");
});
