import { expect, test } from "vitest";
import { nextTestCaution } from "@/lib/bench-tests/next-test-caution";
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
