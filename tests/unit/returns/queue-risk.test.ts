import fc from "fast-check";
import { expect, test } from "vitest";
import { dangerSigns } from "@/lib/returns/danger-signs";
import { queueRisk, worstSafetyClass } from "@/lib/returns/queue-risk";

test("a sign of something going on now outranks every class", () => {
  expect(queueRisk(["hot"], ["C"], "normal", "repair")).toEqual({
    tone: "danger",
    words: "Danger signs, going on now",
  });
});

test("a dangerous event in the readings outranks a still danger sign", () => {
  expect(queueRisk(["swollen"], ["A0"], "normal", "repair").words).toBe("Danger now");
  expect(queueRisk(["swollen"], ["A1"], "normal", "repair").words).toBe("Danger signs told");
});

test("the gravest finding counts, whichever is the most likely", () => {
  expect(worstSafetyClass(["C", "A1", "B"])).toBe("A1");
  expect(queueRisk([], ["C", "B"], "normal", "repair").words).toBe("Damaged or defective");
});

test("without findings a pack cannot be judged yet", () => {
  expect(queueRisk([], [], "normal", "repair").words).toBe("Cannot be judged yet");
  expect(worstSafetyClass([])).toBeNull();
  expect(queueRisk([], ["a class of tomorrow"], "normal", "repair").words).toBe("Cannot be judged yet");
});

test("any danger sign is shown as danger", () => {
  fc.assert(
    fc.property(
      fc.subarray([...dangerSigns], { minLength: 1 }),
      fc.subarray(["A0", "A1", "B", "U", "C"]),
      (signs, classes) => queueRisk(signs, classes, "normal", null).tone === "danger",
    ),
  );
});

test("a flag raised since the return was sent outranks what the file shows, but not a sign going on now", () => {
  expect(queueRisk([], ["A0"], "do-not-move", "repair")).toEqual({ tone: "danger", words: "Flagged: do not move" });
  expect(queueRisk([], ["C"], "isolate", "repair")).toEqual({ tone: "danger", words: "Flagged: set apart" });
  expect(queueRisk(["hot"], [], "do-not-move", "repair").words).toBe("Danger signs, going on now");
  expect(queueRisk([], ["C"], "caution", "repair").words).toBe("Not classed as damaged");
});

test("a finding classed as sound makes no harmless pack where the readings cannot tell what is to be done", () => {
  expect(queueRisk([], ["C"], "normal", "return-as-is").words).toBe("Not classed as damaged");
  expect(queueRisk([], ["C"], "normal", "cannot-tell").words).toBe("Cannot be judged yet");
  expect(queueRisk([], ["B"], "normal", "cannot-tell").words).toBe("Damaged or defective");
});

test("a pack the readings set apart is critical in the queue, whatever its findings are classed", () => {
  expect(queueRisk([], ["B"], "normal", "isolate")).toEqual({ tone: "danger", words: "Critical, in quarantine" });
  expect(queueRisk([], ["A0"], "normal", "isolate").words).toBe("Danger now");
});
