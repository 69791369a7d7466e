import { expect, test } from "vitest";
import { inPrint } from "@/lib/diagnosis/wording";
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

/** Words of whoever writes the rules, and units as files write them: no customer or dealer knows them. */
const developersWords =
  /\bz \d|chi.square|\bmedian\b|\bfitted\b|\bohmic\b|\btaps?\b|open-circuit|standard deviation|\bnoise\b|degC|[mk]Ohm|[a-z]+(?:-[a-z]+){2,}|[A-Z]{2,}_[A-Z]/;

test("what a rule says for a finding is in words that stand in a customer's letter", () => {
  const sentences = verdicts.flatMap(({ findings }) => findings.flatMap(({ evidenceFor }) => evidenceFor.map(inPrint)));
  expect(sentences.length).toBeGreaterThan(50);
  expect(sentences.filter((sentence) => developersWords.test(sentence))).toEqual([]);
});
