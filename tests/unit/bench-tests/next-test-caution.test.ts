import { expect, test } from "vitest";
import { nextTestCaution, planTestCaution, suggestedTestCaution } from "@/lib/bench-tests/next-test-caution";
import { faults } from "@/lib/diagnosis/finding";

test("every test that touches a pack is preceded by its caution, whatever class the finding has", () => {
  for (const fault of faults) {
    const caution = nextTestCaution(fault);
    if (fault === "acute-event" || fault === "mechanical-damage") expect(caution).toBeNull();
    else expect(caution, fault).toContain("Trained people only");
  }
});

test("moving a lead under load asks for more than touching a live wire; an unknown fault is taken for the harder", () => {
  expect(nextTestCaution("main-lead")).toContain("never leave it alone");
  expect(nextTestCaution("sense-wire")).not.toContain("never leave it alone");
  expect(nextTestCaution("a fault of long ago")).toContain("never leave it alone");
});

test("the test a suggestion names has the caution of its likeliest finding, and the harder one where none leads", () => {
  const [wire, lead] = [{ fault: "sense-wire" }, { fault: "main-lead" }];
  expect(suggestedTestCaution("repair", [wire, lead])).toBe(nextTestCaution("sense-wire"));
  expect(suggestedTestCaution("cannot-tell", [])).toContain("never leave it alone");
  expect(suggestedTestCaution("isolate", [lead])).toBeNull();
});

test("a plan that left a caution out still has one before every test that touches the pack", () => {
  expect(planTestCaution({ phase: "look", caution: "" })).toBe("");
  expect(planTestCaution({ phase: "at-rest", caution: "" })).toBe(nextTestCaution("sense-wire"));
  expect(planTestCaution({ phase: "light-load", caution: "" })).toBe(nextTestCaution("main-lead"));
  expect(planTestCaution({ phase: "opening", caution: "Dust." })).toBe("Dust.");
});
