import fc from "fast-check";
import { expect, test } from "vitest";
import { dangerSigns } from "@/lib/returns/danger-signs";
import { queueRisk, worstSafetyClass } from "@/lib/returns/queue-risk";

test("a sign of something going on now outranks every class", () => {
  expect(queueRisk(["hot"], ["C"])).toEqual({ tone: "danger", words: "Danger signs, going on now" });
});

test("a dangerous event in the readings outranks a still danger sign", () => {
  expect(queueRisk(["swollen"], ["A0"]).words).toBe("Danger now");
  expect(queueRisk(["swollen"], ["A1"]).words).toBe("Danger signs told");
});

test("the gravest finding counts, whichever is the most likely", () => {
  expect(worstSafetyClass(["C", "A1", "B"])).toBe("A1");
  expect(queueRisk([], ["C", "B"]).words).toBe("Damaged or defective");
});

test("without findings a pack cannot be judged yet", () => {
  expect(queueRisk([], []).words).toBe("Cannot be judged yet");
  expect(worstSafetyClass([])).toBeNull();
  expect(queueRisk([], ["a class of tomorrow"]).words).toBe("Cannot be judged yet");
});

test("any danger sign is shown as danger", () => {
  fc.assert(
    fc.property(
      fc.subarray([...dangerSigns], { minLength: 1 }),
      fc.subarray(["A0", "A1", "B", "U", "C"]),
      (signs, classes) => queueRisk(signs, classes).tone === "danger",
    ),
  );
});
