import fc from "fast-check";
import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import { buildLog, constant, evenTimes, probe, summaryOf } from "../../support/log-builder";
import { plainModel } from "../../support/plain-model";

/** Sixteen groups at 3.9 V, three probes: what the first reads is given, the others as told or 24 degC throughout. */
function judged(
  timeS: ArrayLike<number>,
  firstC: (row: number) => number,
  {
    currentA = () => 0,
    othersC = (_row: number, _place: number) => 24,
  }: { currentA?: (row: number) => number; othersC?: (row: number, place: number) => number } = {},
) {
  const rows = timeS.length;
  const column = (read: (row: number) => number) => Float64Array.from({ length: rows }, (_, row) => read(row));
  const log = buildLog({
    timeS,
    currentA: column(currentA),
    packVoltageV: constant(rows, 16 * 3.9),
    cellVoltagesV: Array.from({ length: 16 }, () => constant(rows, 3.9)),
    temperatures: [
      probe("Temperature T1", column(firstC)),
      probe(
        "Temperature T2",
        column((row) => othersC(row, 2)),
      ),
      probe(
        "Temperature T3",
        column((row) => othersC(row, 3)),
      ),
    ],
  });
  const { findings, suggestion, unseen } = diagnose({ log, summary: summaryOf(log), model: plainModel });
  return { first: findings[0], findings, remedy: suggestion.remedy, missing: suggestion.missing, unseen };
}

const acute = { first: { fault: "acute-event", safetyClass: "A0" }, remedy: "isolate" };

test("a pack that cooled while the logger slept is still watched: later warming at rest is an emergency", () => {
  // 100 rows of 10 s at 45 degC, ten hours without a row, then 20 degC and 1.5 K a minute from row 150 on.
  const timeS = Float64Array.from({ length: 400 }, (_, row) => row * 10 + (row < 100 ? 0 : 36_000));
  const warm = (row: number) => (row < 100 ? 45 : 20 + Math.max(0, row - 150) * 0.25);
  const found = judged(timeS, warm, { othersC: (row) => (row < 100 ? 45 : 20) });
  expect(found).toMatchObject(acute);
  expect(found.first?.evidenceFor[0]).toContain("while no current flows");
});

test("a probe that falls as nothing can cool is not believed for an hour, and then is again", () => {
  // Jumps down by 12 K at row 60; warms 2 K a minute from row `from` on.
  const falling = (from: number) => (row: number) => (row < 60 ? 36 : 24 + (2 / 6) * Math.max(0, row - from));
  const early = judged(evenTimes(150, 10), falling(80));
  expect(early.findings.map(({ fault }) => fault)).not.toContain("acute-event");
  expect(judged(evenTimes(600, 10), falling(480))).toMatchObject(acute);
});

test("a log that begins with a hot probe is an emergency, unconfirmed while one probe alone shows it", () => {
  const alone = judged(evenTimes(200, 10), () => 100);
  expect(alone).toMatchObject(acute);
  expect(alone.first?.evidenceAgainst[0]).toContain("one probe alone");
  const together = judged(evenTimes(200, 10), () => 100, { othersC: () => 66 });
  expect(together).toMatchObject(acute);
  expect(together.first?.evidenceAgainst).toEqual([]);
});

test("a probe on its rail from the first row on, or one that jumps up while the others stay, is a broken probe", () => {
  for (const broken of [() => 150, (row: number) => (row < 50 ? 24 : 100)]) {
    const found = judged(evenTimes(200, 10), broken);
    expect(found.findings.map(({ fault }) => fault)).not.toContain("acute-event");
    expect(found.findings.map(({ fault }) => fault)).not.toContain("no-fault-found");
  }
});

test("a runaway in two or three great steps between rows a minute apart is an emergency, also beyond what a probe can read", () => {
  for (const end of [
    [27, 45, 110],
    [27, 45, 110, 380],
    [27, 70, 190],
    [27, 70, 190, 500],
  ]) {
    const rows = 200;
    const found = judged(evenTimes(rows, 60), (row) => end[row - (rows - end.length)] ?? 24);
    expect(found, end.join(", ")).toMatchObject(acute);
  }
});

test("a shorted probe that flickers between values of its rail is no runaway", () => {
  const rail = [125, 150, 200, 200, 150, 200];
  const found = judged(evenTimes(400, 60), (row) => (row < 200 ? 24 : (rail[row % rail.length] ?? 24)));
  expect(found.findings.map(({ fault }) => fault)).toEqual(["temperature-sensor"]);
});

test("warming under load that the pack's own losses cannot explain is an emergency, what they can explain is none", () => {
  // Losses of a group by hand: (20 A)² 0.9 mOhm = 0.36 W on 40 Ah · 3.65 V / 250 Wh/kg = 0.58 kg, 0.04 K/min; 200 A: 4.1 K/min.
  const warming = (perMinute: number) => (row: number) => 24 + (perMinute / 6) * Math.max(0, row - 100);
  const others = (perMinute: number) => ({ othersC: warming(0.6 * perMinute) });
  const weak = judged(evenTimes(200, 10), warming(3), { currentA: () => -20 });
  expect(weak).toMatchObject(acute);
  expect(weak.first?.evidenceFor[0]).toContain("own losses");
  const hard = judged(evenTimes(160, 10), warming(4), { currentA: () => -200, ...others(4) });
  expect(hard.findings.map(({ fault }) => fault)).not.toContain("acute-event");
});

test("a joint that warms by 16 K in a burst of load and cools after it is no emergency", () => {
  // 200 A for 20 s in each 6 minutes, 60 A between; the probe beside the joint follows within seconds.
  const burst = (row: number) => row % 180 >= 170;
  const warm = (row: number) => {
    const place = row % 180;
    return place >= 170 ? 20 + 1.6 * (place - 169) : 20 + 16 * Math.exp(-place / 15);
  };
  const found = judged(evenTimes(900, 2), warm, { currentA: (row) => (burst(row) ? -200 : -60) });
  expect(found.findings.map(({ fault }) => fault)).not.toContain("acute-event");
});

test("in rows without a current the continuous current is taken to have flowed", () => {
  // (120 A)² 0.9 mOhm: 1.5 K a minute by the same count; three times that and 2 K a minute more is the trigger.
  const currentA = (row: number) => (row < 100 ? -20 : Number.NaN);
  const warming = (perMinute: number) => (row: number) => 24 + (perMinute / 6) * Math.max(0, row - 100);
  expect(judged(evenTimes(130, 10), warming(9), { currentA })).toMatchObject(acute);
  const slower = judged(evenTimes(150, 10), warming(5), { currentA });
  expect(slower.findings.map(({ fault }) => fault)).not.toContain("acute-event");
});

test("a probe that jumps in two rows two seconds apart is no emergency, however flat or unsteady it was before; at the end of the file it is said", () => {
  const rows = 400;
  for (const flickerC of [0, 0.1]) {
    const jump = (end: readonly number[], stays: number) => (row: number) =>
      end[row - (rows - end.length - stays)] ?? (row >= rows - stays ? end.at(-1) : 24 + (row % 2) * flickerC) ?? 24;
    const { findings, remedy, missing } = judged(evenTimes(rows, 2), jump([24, 66, 98], 0));
    expect(findings).toEqual([]);
    expect(remedy).toBe("cannot-tell");
    // Two steps of 2 s each; whatever else is open in this file comes after it.
    expect(missing[0]).toMatch(
      /^Temperature T1 goes from 24 to 98 degC in the last 4 s of the file: heat, or a sensor/,
    );
    const goesOn = judged(evenTimes(rows, 2), jump([24, 66, 98], 100));
    expect(goesOn.findings.map(({ fault }) => fault)).not.toContain("acute-event");
    expect(goesOn.findings.map(({ fault }) => fault)).not.toContain("no-fault-found");
  }
  // The same heights in ten rows are a rise.
  expect(judged(evenTimes(rows, 2), (row) => Math.max(24, 98 - 7.4 * (rows - 1 - row)))).toMatchObject(acute);
});

test("a file that ends hot after a leap is never sound, however many hot rows there are; probes that leap together are an emergency", () => {
  const rows = 400;
  const endsWith = (tail: readonly number[]) => (row: number) => tail[row - (rows - tail.length)] ?? 24;
  const hot = (count: number) => Array.from({ length: count }, (_, at) => 110 + at);
  for (const tail of [[110], hot(5), hot(6), hot(12), hot(20), [60, ...hot(12)]]) {
    const alone = judged(evenTimes(rows, 2), endsWith(tail));
    expect(alone.findings.map(({ fault }) => fault)).not.toContain("no-fault-found");
    expect(alone.remedy).toMatch(/^(?:cannot-tell|isolate)$/);
    if (alone.remedy === "cannot-tell") expect(alone.missing[0]).toContain("call the fire service");
    const together = judged(evenTimes(rows, 2), endsWith(tail), { othersC: endsWith(tail) });
    expect(together.remedy).toBe(tail.length === 1 ? "cannot-tell" : "isolate");
  }
  // A board that refreshes a probe every sixth row: through heat to its rail, which a short circuit reaches at once.
  const refreshed = [...Array.from({ length: 6 }, () => 110), ...Array.from({ length: 6 }, () => 135)];
  const byRefresh = judged(evenTimes(rows, 1), endsWith(refreshed));
  expect(byRefresh.findings).toEqual([]);
  expect(byRefresh.missing[0]).toContain("call the fire service");
  const shorted = judged(evenTimes(rows, 1), endsWith(Array.from({ length: 12 }, () => 150)));
  expect(shorted.findings.map(({ fault }) => fault)).toEqual(["temperature-sensor"]);
});

test("probes that read different heats in the last row alone are an emergency, one value written for all is not", () => {
  const rows = 400;
  const lastRow = (heatC: number) => (row: number) => (row === rows - 1 ? heatC : 22);
  const ends = (heats: readonly [number, number, number]) =>
    judged(evenTimes(rows, 10), lastRow(heats[0]), { othersC: (row, place) => lastRow(heats[place - 1] ?? 22)(row) });
  expect(ends([70, 118, 88])).toMatchObject(acute);
  expect(ends([70, 118, 88]).first?.evidenceAgainst.join(" ")).toContain("second witness is missing");
  for (const told of [ends([100, 100, 100]), ends([22, 118, 22])]) {
    expect(told.findings).toEqual([]);
    expect(told.missing[0]).toContain("call the fire service");
  }
});

test("two probes that leap to 110 degC are an emergency wherever in the log it is; straight back to where they came from, they are a jump of the readings", () => {
  const rows = 400;
  const from = 200;
  // Twelve rows of 1 s at 110 to 113 degC, then falling from 79 degC by 0.2 K a row.
  const leaping = (back: number) => (row: number) => {
    if (row < from) return 29;
    if (row < from + 12) return 110 + Math.min(3, row - from);
    return back === 29 ? 29 : Math.max(29, back - 0.2 * (row - from - 12));
  };
  const { findings, ...together } = judged(evenTimes(rows, 1), leaping(79), { othersC: leaping(79) });
  expect({ ...together, findings }).toMatchObject(acute);
  expect(findings[0]?.evidenceFor[0]).toBe("At line 202 Temperature T1 reaches 110 degC.");
  for (const [first, others] of [
    [leaping(29), leaping(29)],
    [leaping(79), () => 29],
  ] as const) {
    const found = judged(evenTimes(rows, 1), first, { othersC: others });
    expect(found.findings.map(({ fault }) => fault)).not.toContain("acute-event");
    expect(found.findings.map(({ fault }) => fault)).not.toContain("no-fault-found");
    expect(found.remedy).toBe("cannot-tell");
  }
  // One probe at a time is no leap together.
  const later = judged(evenTimes(rows, 1), leaping(79), {
    othersC: (row, place) => (place === 2 && row < 100 ? leaping(79)(row + 150) : 29),
  });
  expect(later.findings.map(({ fault }) => fault)).not.toContain("acute-event");
});

/** How grave a verdict is: sound, damaged, perhaps hot and nobody can tell, an emergency. */
function gravity({ findings, remedy, unseen }: ReturnType<typeof judged>): number {
  if (findings.some(({ safetyClass }) => safetyClass === "A0")) return 3;
  if (remedy === "cannot-tell" && unseen.some(({ fault }) => fault === "acute-event")) return 2;
  return findings.every(({ fault }) => fault === "no-fault-found") ? 0 : 1;
}

test("a row that is as hot as the one before, or hotter, never makes a verdict less grave, whatever the sampling", () => {
  const rows = 120;
  const rises = fc.array(fc.constantFrom(0, 0.5, 2, 2, 4, 6), { minLength: 2, maxLength: 7 });
  fc.assert(
    fc.property(
      fc.constantFrom(1, 5, 10, 30, 60),
      fc.integer({ min: 80, max: 95 }),
      rises,
      (intervalS, first, more) => {
        let before = 0;
        const tail = more.map((_, at) => more.slice(0, at).reduce((sum, one) => sum + one, first));
        for (let count = 1; count <= tail.length; count += 1) {
          const end = tail.slice(0, count);
          const now = gravity(judged(evenTimes(rows, intervalS), (row) => end[row - (rows - end.length)] ?? 24));
          expect(now, `${intervalS} s: ${end.join(", ")}`).toBeGreaterThanOrEqual(Math.max(before, 2));
          before = now;
        }
      },
    ),
    { seed: 12, numRuns: 12 },
  );
});
