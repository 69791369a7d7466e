import { expect, test } from "vitest";
import { proposalRefusedAt } from "@/lib/returns/proposal-refused-at";

const plain = { decision: { confirmedFault: "weak-cell" }, stated: {} } as const;

test("what another answer of the desk would mend stands at that answer", () => {
  expect(proposalRefusedAt("safety-open", plain)).toBe("remedy");
  expect(proposalRefusedAt("look-first", plain)).toBe("remedy");
  expect(proposalRefusedAt("refund-in-other-currency", plain)).toBe("refundCurrency");
  expect(proposalRefusedAt("revision-may-not-replace", plain)).toBe("replacementRevisionCode");
  expect(proposalRefusedAt("refusal-unseen", plain)).toBe("refusedUnseenBecause");
  expect(proposalRefusedAt("due-in-the-past", plain)).toBe("comesBackBy");
});

test("what was given before is asked for at whichever of its two answers is missing", () => {
  expect(proposalRefusedAt("given-before", plain)).toBe("comesBackWhat");
  const chosen = { ...plain, decision: { ...plain.decision, comesBackWhat: "comes-back" } } as const;
  expect(proposalRefusedAt("given-before", chosen)).toBe("comesBack");
});

test("open tests stand at the choice, and at the reason where one was left out without it", () => {
  expect(proposalRefusedAt("tests-open", plain)).toBe("tests");
  expect(proposalRefusedAt("tests-open", { ...plain, stated: { tests: "waived" } })).toBe("testsWaivedBecause");
});

test("“no fault found” untried stands at the fault that says so, and nowhere where the coding of the bench says it", () => {
  const found = { ...plain, decision: { confirmedFault: "no-fault-found" } } as const;
  expect(proposalRefusedAt("no-fault-untried", found)).toBe("confirmedFault");
  expect(proposalRefusedAt("no-fault-untried", plain)).toBeNull();
});

test("what the return forbids as it stands is about no question of the desk", () => {
  for (const reason of ["someone-changed-this", "not-from-here", "former-reviewer", "coding-missing", "not-found"])
    expect(proposalRefusedAt(reason, plain), reason).toBeNull();
});
