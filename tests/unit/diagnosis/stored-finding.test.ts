import { expect, test } from "vitest";
import { nextTestCaution } from "@/lib/bench-tests/next-test-caution";
import { faults, safetyClasses } from "@/lib/diagnosis/finding";
import { plainCautions } from "@/lib/diagnosis/plain-reasons";
import { findingsToJudge, readStoredFinding } from "@/lib/diagnosis/stored-finding";
import { suggest } from "@/lib/diagnosis/suggest";
import { classToHandleBy } from "@/lib/returns/queue-risk";
import { bareFinding } from "@/tests/support/bare-finding";

const NOTHING_MISSING = { misfit: null, missing: [], unseen: [] };
const suggested = (...rows: Parameters<typeof findingsToJudge>[0]) =>
  suggest(findingsToJudge(rows), NOTHING_MISSING, 0.5).remedy;

test("words of this release are kept as they are", () => {
  for (const fault of faults) {
    for (const safetyClass of safetyClasses) {
      expect(readStoredFinding({ fault, safetyClass })).toEqual({ fault, safetyClass, isKnownFault: true });
    }
  }
});

test.each(["A0", "A1"])("a fault nobody knows any more isolates the pack where its class is %s", (safetyClass) => {
  expect(suggested({ ...bareFinding, fault: "gone", safetyClass })).toBe("isolate");
  expect(suggested(bareFinding, { ...bareFinding, fault: "gone", safetyClass })).toBe("isolate");
});

test.each(["B", "U", "gone"])("where its class is %s no remedy rests on it", (safetyClass) => {
  expect(suggested({ ...bareFinding, fault: "gone", safetyClass })).toBe("cannot-tell");
});

test("a class nobody knows any more cannot be judged", () => {
  expect(readStoredFinding({ fault: "sense-wire", safetyClass: "gone" }).safetyClass).toBe("U");
  expect(classToHandleBy(["C", "gone"], "repair")).toBe("U");
});

test("a danger under an unknown name is said in plain words, a sound finding is not", () => {
  expect(plainCautions([{ fault: "gone", safetyClass: "A0" }]).join()).toContain("Keep away");
  expect(plainCautions([{ fault: "gone", safetyClass: "B" }]).join()).toContain("do not charge it");
  expect(plainCautions([{ fault: "gone", safetyClass: "gone" }]).join()).toContain("do not charge it");
  expect(plainCautions([{ fault: "gone", safetyClass: "C" }])).toEqual([]);
  expect(plainCautions([{ fault: "gone", safetyClass: "B" }]).join()).not.toContain("board");
});

test("the test after it gets the stricter caution", () => {
  expect(nextTestCaution("gone")).toBe(nextTestCaution("main-lead"));
});
