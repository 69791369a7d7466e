import { expect, test } from "vitest";
import { proposalSentences, readProposalState, whyNotSettled } from "@/lib/access/two-people";

const proposal = { state: "proposed", proposedByUserId: "a" };

// Separation of duties: common practice, no source.
test("whoever proposed drops it and never approves it; another does either, once", () => {
  expect(whyNotSettled({ userId: "a" }, proposal, "approved")).toBe("same-person");
  expect(whyNotSettled({ userId: "a" }, proposal, "dropped")).toBeNull();
  for (const verdict of ["approved", "dropped"] as const) {
    expect(whyNotSettled({ userId: "b" }, proposal, verdict)).toBeNull();
    expect(whyNotSettled({ userId: "b" }, { ...proposal, state: "approved" }, verdict)).toBe("settled");
    expect(whyNotSettled({ userId: "b" }, { ...proposal, state: "dropped" }, verdict)).toBe("settled");
    expect(whyNotSettled({ userId: "b" }, null, verdict)).toBe("not-found");
  }
});

test("a state nobody knows is a fault, and every refusal has its sentence", () => {
  expect(readProposalState("approved")).toBe("approved");
  expect(() => readProposalState("agreed")).toThrow(RangeError);
  const words = { thing: "version", whose: "managers", another: "another manager", notPast: "it was so." };
  expect(Object.values(proposalSentences(words)).every((sentence) => sentence.endsWith("."))).toBe(true);
});
