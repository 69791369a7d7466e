import fc from "fast-check";
import { expect, test } from "vitest";
import { dangerSigns } from "@/lib/returns/danger-signs";
import { queueRisk, worstSafetyClass } from "@/lib/returns/queue-risk";

test("a sign of something going on now outranks every class", () => {
  expect(queueRisk(["hot"], ["C"], "normal")).toEqual({ tone: "danger", words: "Danger signs, going on now" });
});

test("a dangerous event in the readings outranks a still danger sign", () => {
  expect(queueRisk(["swollen"], ["A0"], "normal").words).toBe("Danger now");
  expect(queueRisk(["swollen"], ["A1"], "normal").words).toBe("Danger signs told");
});

test("the gravest finding counts, whichever is the most likely", () => {
  expect(worstSafetyClass(["C", "A1", "B"])).toBe("A1");
  expect(queueRisk([], ["C", "B"], "normal").words).toBe("Damaged or defective");
});

test("without findings a pack cannot be judged yet", () => {
  expect(queueRisk([], [], "normal").words).toBe("Cannot be judged yet");
  expect(worstSafetyClass([])).toBeNull();
  expect(queueRisk([], ["a class of tomorrow"], "normal").words).toBe("Cannot be judged yet");
});

test("any danger sign is shown as danger", () => {
  fc.assert(
    fc.property(
      fc.subarray([...dangerSigns], { minLength: 1 }),
      fc.subarray(["A0", "A1", "B", "U", "C"]),
      (signs, classes) => queueRisk(signs, classes, "normal").tone === "danger",
    ),
  );
});

test("a flag raised since the return was sent outranks what the file shows, but not a sign going on now", () => {
  expect(queueRisk([], ["A0"], "do-not-move")).toEqual({ tone: "danger", words: "Flagged: do not move" });
  expect(queueRisk([], ["C"], "isolate")).toEqual({ tone: "danger", words: "Flagged: set apart" });
  expect(queueRisk(["hot"], [], "do-not-move").words).toBe("Danger signs, going on now");
  expect(queueRisk([], ["C"], "caution").words).toBe("Not classed as damaged");
});
