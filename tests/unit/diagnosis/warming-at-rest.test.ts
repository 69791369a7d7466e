import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import { summaryOf } from "../../support/log-builder";
import { parkedPack } from "../../support/parked-pack";
import { plainModel } from "../../support/plain-model";

const rows = 600;

/** Ten hours parked, one row a minute; what each probe warms by, minutes before the end given. */
function judged(warmK: (minutesLeft: number, place: number) => number) {
  const log = parkedPack(rows, 60, { warmK: (row, place) => warmK(rows - 1 - row, place) });
  const { findings, suggestion, unseen } = diagnose({ log, summary: summaryOf(log), model: plainModel });
  return {
    faults: findings.map(({ fault }) => fault),
    first: findings[0],
    suggestion,
    unclear: unseen.filter(({ fault }) => fault === "acute-event"),
  };
}

/** K since the warming began, at a steady rate. */
function steady(rateKPerMin: number, minutes: number) {
  return (left: number) => rateKPerMin * Math.max(0, minutes - left);
}

/** A pack carried from one place to another follows it by a time constant, in minutes. */
function carriedTo(byK: number, constantMin: number, minutesAgo: number) {
  return (left: number) => (left > minutesAgo ? 0 : byK * (1 - Math.exp((left - minutesAgo) / constantMin)));
}

test("a pack that warms at rest as no place warms it, and has not stopped, is set apart, however slowly it began", () => {
  for (const warming of [steady(0.5, 75), steady(0.15, 300), steady(0.9, 40)]) {
    const { first, suggestion } = judged(warming);
    expect(first).toMatchObject({ fault: "acute-event", safetyClass: "A0" });
    expect(first?.evidenceFor[0]).toContain("while no current flows");
    expect(suggestion.remedy).toBe("isolate");
  }
});

test("one place that warms by itself beside others that do not is set apart, with one witness missing", () => {
  const { first } = judged((left, place) => (place === 1 ? steady(0.5, 30)(left) : 0));
  expect(first).toMatchObject({ fault: "acute-event", safetyClass: "A0" });
  expect(first?.evidenceAgainst).toHaveLength(1);
});

test("warming that only the sun or a heater could do leaves it untold, with everybody kept away and no current asked for", () => {
  const { faults, suggestion, unclear } = judged(steady(0.25, 50));
  expect(faults).not.toContain("no-fault-found");
  expect(suggestion.remedy).toBe("cannot-tell");
  expect(unclear[0]?.because).toContain("still does where the file ends");
  expect(suggestion.plainReasons.join(" ")).toContain("Keep everybody away");
  expect(suggestion.plainReasons).toContain("Do not charge it and do not ride it.");
  expect(suggestion.reasons.join(" ")).not.toMatch(/cycle|draw about|Log a ride/);
});

test("a pack that follows a room, a day or its own last ride is no danger", () => {
  const cold = (left: number) => -22 + carriedTo(22, 60, 90)(left);
  const day = (left: number) => 6 * Math.sin((2 * Math.PI * (rows - left)) / 1440);
  const cooling = (left: number) => 15 * Math.exp((left - rows) / 60);
  const stopped = (left: number) => steady(0.5, 90)(Math.max(left, 60));
  for (const warming of [cold, day, cooling, stopped, carriedTo(8, 60, 60)]) {
    const { faults, unclear } = judged(warming);
    expect(faults).not.toContain("acute-event");
    expect(unclear).toEqual([]);
  }
});

test("a probe that jumps, or falls as nothing cools, is no warming", () => {
  for (const broken of [(left: number) => (left < 20 ? 12 : 0), (left: number) => (left % 7 === 0 ? 9 : 0)]) {
    const { faults } = judged((left, place) => (place === 0 ? broken(left) : 0));
    expect(faults).not.toContain("acute-event");
  }
});
