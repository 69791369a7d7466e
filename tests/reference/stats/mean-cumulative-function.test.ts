import { expect, test } from "vitest";
import { kaplanMeier } from "@/lib/stats/kaplan-meier";
import { type EventHistory, meanCumulativeFunction } from "@/lib/stats/mean-cumulative-function";
import { numberIn, typedTable } from "@/tests/support/check-table";
import { countLives, type Life } from "@/tests/support/lives";
import { seededRandom } from "@/tests/support/seeded-random";
import { expectWithinRelative } from "@/tests/support/within-relative";

// Nelson, J. Qual. Technol. 27 (1995) 147-157: days each of 41 engines was watched, and the days of its replacements.
const valveSeats = `
  761 759 667:98 667:326,653,653 665 667:84 663:87 653:646 653:92 651 650:258,328,377,621 648:61,539
  644:254,276,298,640 642:76,538 641:635 649:349,404,561 631 596 614:120,479 582:323,449 589:139,139 593 589:573
  606:165,408,604 594:249 613:344,497 595:265,586 389:166,206,348 601 601:410,581 611 608 587 603:367
  585:202,563,570 587 578 578 586 585 582`;

test("valve seats of 41 engines give Nelson's mean cumulative function with its robust error", () => {
  // Meeker & Escobar (1998), chapter 16. Error worked out in R 4.2.2.
  const expected = typedTable(
    "statistics/ref/mcf_valve_seat.csv",
    `
day,at_risk,d,mcf,se
61,41,1,0.0243902439,0.02409096577
76,41,1,0.0487804878,0.03364120289
84,41,1,0.07317073171,0.04067023114
87,41,1,0.09756097561,0.0463398979
92,41,1,0.12195121951,0.05110465579
98,41,1,0.14634146341,0.05519933711
120,41,1,0.17073170732,0.05876418177
139,41,2,0.21951219512,0.07326981196
165,41,1,0.24390243902,0.07541665195
166,41,1,0.26829268293,0.0773166134
202,41,1,0.29268292683,0.07898751352
206,41,1,0.31707317073,0.08752682526
249,41,1,0.34146341463,0.08867962709
254,41,1,0.36585365854,0.08965594599
258,41,1,0.39024390244,0.09046149628
265,41,1,0.41463414634,0.09110080809
276,41,1,0.43902439024,0.09785796557
298,41,1,0.46341463415,0.10960727567
323,41,1,0.48780487805,0.10973957176
326,41,1,0.51219512195,0.10973957176
328,41,1,0.53658536585,0.11490658325
344,41,1,0.56097560976,0.11465376318
348,41,1,0.58536585366,0.12424960848
349,41,1,0.60975609756,0.12378162335
367,41,1,0.63414634146,0.123194142
377,41,1,0.65853658537,0.13184164829
404,40,1,0.68353658537,0.13593895726
408,40,1,0.70853658537,0.13980461358
410,40,1,0.73353658537,0.13914200538
449,40,1,0.75853658537,0.14270223383
479,40,1,0.78353658537,0.14606884479
497,40,1,0.80853658537,0.14925494061
538,40,1,0.83353658537,0.15227185286
539,40,1,0.85853658537,0.15512945256
561,40,1,0.88353658537,0.1617477262
563,40,1,0.90853658537,0.1642505915
570,40,1,0.93353658537,0.17033184284
573,40,1,0.95853658537,0.16895814384
581,38,1,0.98485237484,0.17120359778
586,34,1,1.01426413955,0.17384432845
604,22,1,1.059718685,0.18506098812
621,17,1,1.11854221441,0.20750288324
635,16,1,1.18104221441,0.20690834729
640,16,1,1.24354221441,0.22632441763
646,13,1,1.32046529133,0.22850515495
653,9,2,1.54268751356,0.31165607475
`,
  );
  const systems = valveSeats
    .trim()
    .split(/\s+/)
    .map((engine): EventHistory => {
      const [to, days] = engine.split(":");
      return { to: Number(to), events: days === undefined ? [] : days.split(",").map(Number) };
    });
  expect(systems).toHaveLength(41);
  const steps = meanCumulativeFunction(systems);
  expect(steps.map(({ age, atRisk, events }) => [age, atRisk, events])).toEqual(
    expected.map((row) => ["day", "at_risk", "d"].map((column) => numberIn(row, column))),
  );
  for (const [i, row] of expected.entries()) {
    expectWithinRelative(steps[i]?.mean ?? -1, numberIn(row, "mcf"), 1e-9, `mean at ${row.day}`);
    expectWithinRelative(steps[i]?.standardError ?? -1, numberIn(row, "se"), 1e-9, `error at ${row.day}`);
  }
  expectWithinRelative(steps.at(-1)?.mean ?? 0, 1.5426875, 1e-7, "day 653");
  expectWithinRelative(steps.at(-1)?.standardError ?? 0, 0.31165607, 1e-7, "its error");
});

test("late entries, ties and gaps agree with the variance added up system by system", () => {
  const uniform = seededRandom(3);
  const systems = Array.from({ length: 60 }, (): EventHistory => {
    const from = uniform() < 0.4 ? Math.floor(30 * uniform()) : 0;
    const to = from + 1 + Math.floor(50 * uniform());
    const events = Array.from(
      { length: Math.floor(4 * uniform()) },
      () => from + 1 + Math.floor((to - from) * uniform()),
    );
    return { from, to, events: events.map((age) => Math.min(age, to)) };
  });
  const parts = systems.map(() => 0);
  let mean = 0;
  for (const step of meanCumulativeFunction(systems)) {
    const watched = systems.map(({ from = 0, to }) => from < step.age && step.age <= to);
    const own = systems.map(({ events }) => events.filter((age) => age === step.age).length);
    const n = watched.filter(Boolean).length;
    const increment = own.reduce((a, b) => a + b) / n;
    mean += increment;
    for (const i of parts.keys()) if (watched[i]) parts[i] = (parts[i] ?? 0) + ((own[i] ?? 0) - increment) / n;
    expectWithinRelative(step.mean, mean, 1e-12, "mean");
    expectWithinRelative(step.standardError, Math.sqrt(parts.reduce((a, b) => a + b * b, 0)), 1e-10, "error");
  }
});

test("with at most one event per system, after which it leaves, it is the Nelson-Aalen estimate", () => {
  const lives: Life[] = [
    [0, 4, 1],
    [0, 6, 0],
    [2, 9, 1],
    [0, 9, 1],
    [5, 12, 0],
    [0, 15, 1],
  ];
  const systems = lives.map(([from, to, failed]) => ({ from, to, events: failed === 1 ? [to] : [] }));
  expect(meanCumulativeFunction(systems).map(({ mean }) => mean)).toEqual(
    kaplanMeier(countLives(lives)).steps.map(({ cumulativeHazard }) => cumulativeHazard),
  );
});

test("no events give no steps, and an event while nobody watched is refused", () => {
  expect(meanCumulativeFunction([{ to: 5, events: [] }])).toEqual([]);
  expect(() => meanCumulativeFunction([{ to: 5, events: [6] }])).toThrow(RangeError);
  expect(() => meanCumulativeFunction([{ from: 5, to: 5, events: [] }])).toThrow(RangeError);
});
