import { expect, test } from "vitest";
import { judgeTrial } from "../../bench/diagnosis/judge-trial";
import { makeTrial } from "../../bench/diagnosis/make-trial";

// A small part of the scored benchmark (npm run bench:diagnosis), so that a rule that breaks shows before the whole is run.
// Limits are wide on purpose: forty packs estimate nothing, they only catch what fell apart.
const verdicts = Array.from({ length: 40 }, (_, place) => judgeTrial(makeTrial(4, place)));

test("no acute file is called sound, and every one is isolated", () => {
  const acute = verdicts.filter(({ faults }) =>
    faults.some(({ planted, visibility }) => planted.fault === "acute-event" && visibility === "visible"),
  );
  expect(acute.length).toBeGreaterThan(0);
  for (const { findings, remedy } of acute) {
    expect(findings.map(({ fault }) => fault)).not.toContain("no-fault-found");
    expect(remedy).toBe("isolate");
  }
});

test("of the faults whose evidence is in the log at least nine in ten are named at the right groups", () => {
  const visible = verdicts.flatMap(({ faults }) => faults.filter(({ visibility }) => visibility === "visible"));
  expect(visible.length).toBeGreaterThan(10);
  expect(visible.filter(({ named }) => named).length).toBeGreaterThanOrEqual(0.9 * visible.length);
});

test("at most one of the healthy packs is given a fault", () => {
  const healthy = verdicts.filter(({ healthyUse }) => healthyUse !== null);
  expect(healthy.length).toBe(12);
  expect(healthy.filter(({ falseFindings }) => falseFindings.length > 0).length).toBeLessThanOrEqual(1);
});
