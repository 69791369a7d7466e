import { expect, test } from "vitest";
import { type DecisionInput, decisionSchema, sayConfirmedFault } from "@/lib/returns/decision.schema";

const repair: DecisionInput = {
  remedy: "repair",
  confirmedFault: "high-resistance-joint",
  reason: "Joint of group 7 reads 2.1 mOhm.",
  seenVersion: 4,
};
const told = (over: Record<string, unknown>) =>
  decisionSchema.safeParse({ ...repair, ...over }).error?.issues.map(({ path }) => path.join("."));

test("a decision with its reason is read", () => {
  expect(told({})).toBeUndefined();
  expect(told({ replacementRevisionCode: "" })).toBeUndefined();
  expect(told({ confirmedFault: "unknown" })).toBeUndefined();
  expect(told({ remedy: "replace", replacementRevisionCode: "TR-D" })).toBeUndefined();
});

test("a replacement names its revision, and nothing else does", () => {
  expect(told({ remedy: "replace" })).toEqual(["replacementRevisionCode"]);
  expect(told({ remedy: "replace", replacementRevisionCode: "" })).toEqual(["replacementRevisionCode"]);
  expect(told({ replacementRevisionCode: "TR-D" })).toEqual(["replacementRevisionCode"]);
});

test("a refusal names the term, the evidence and the other explanations; a refund its amount and currency", () => {
  expect(told({ remedy: "refuse" })).toEqual(["refusalTerm"]);
  const bare = { refusalTerm: "Section 4: damage from a fall", refusalEvidence: "Photograph 3 shows the dent." };
  expect(told({ remedy: "refuse", ...bare })).toEqual(["refusalTerm"]);
  expect(told({ remedy: "refuse", ...bare, refusalAlternatives: "No transport damage on arrival." })).toBeUndefined();
  const named = { ...bare, refusalAlternatives: "No transport damage on arrival." };
  for (const denied of [
    { remedy: "dispose" },
    { remedy: "redirect" },
    { remedy: "redirect", confirmedFault: "unknown" },
    { remedy: "return-as-is", confirmedFault: "unknown" },
    { remedy: "return-as-is", confirmedFault: "outside-cause" },
  ]) {
    expect(told(denied), JSON.stringify(denied)).toEqual(["refusalTerm"]);
    expect(told({ ...denied, ...named }), JSON.stringify(denied)).toBeUndefined();
  }
  for (const remedy of ["return-as-is", "redirect"])
    expect(told({ remedy, confirmedFault: "no-fault-found" }), remedy).toBeUndefined();
  expect(told({ remedy: "redirect", confirmedFault: "outside-cause" })).toBeUndefined();
  expect(told({ remedy: "refund" })).toEqual(["refundMinor"]);
  expect(told({ remedy: "refund", refundMinor: "12,3,4", refundCurrency: "EUR" })).toEqual(["refundMinor"]);
  expect(told({ remedy: "refund", refundMinor: "1234,50" })).toEqual(["refundCurrency"]);
  // Three letters are not yet a currency (ISO 4217).
  expect(told({ remedy: "refund", refundMinor: "5", refundCurrency: "EUE" })).toEqual(["refundCurrency"]);
  expect(told({ remedy: "refund", refundMinor: "1234,50", refundCurrency: "eur" })).toBeUndefined();
  expect(told({ remedy: "repair", refundMinor: "5", refundCurrency: "EUR" })).toEqual(["refundMinor"]);
});

test("a remedy nobody decides is refused", () => {
  expect(told({ remedy: "cannot-tell" })).toEqual(["remedy"]);
  // Nothing is asked of the revision while the remedy itself is not understood.
  expect(told({ remedy: "cannot-tell", replacementRevisionCode: "TR-D" })).toEqual(["remedy"]);
});

test("a reason too short, a fault unknown to the table and a broken version are told at their fields", () => {
  expect(told({ reason: "broken   " })).toEqual(["reason"]);
  expect(told({ confirmedFault: "gremlins" })).toEqual(["confirmedFault"]);
  expect(told({ seenVersion: 1.5 })).toEqual(["seenVersion"]);
});

test("a refund is kept in the smallest unit of its currency, which for yen is the yen", () => {
  const minor = (refundMinor: unknown, refundCurrency: string) =>
    decisionSchema.parse({ ...repair, remedy: "refund", refundMinor, refundCurrency }).refundMinor;
  // ISO 4217, minor units (from memory: verify): EUR 2, JPY 0, KRW 0.
  expect(minor("1234,50", "EUR")).toBe(123_450);
  expect(minor("1234", "jpy")).toBe(1234);
  expect(minor("56000", "KRW")).toBe(56_000);
  // What the form has read already is not read again.
  expect(minor(1234, "JPY")).toBe(1234);
  expect(told({ remedy: "refund", refundMinor: "12.50", refundCurrency: "JPY" })).toEqual(["refundMinor"]);
  expect(told({ remedy: "refund", refundMinor: "0", refundCurrency: "EUR" })).toEqual(["refundMinor"]);
});

test("what nobody found on the bench is not told as read from a file", () => {
  expect(sayConfirmedFault("no-fault-found")).toBe("No fault was found");
  expect(sayConfirmedFault("unknown")).toBe("Not known");
  expect(sayConfirmedFault("sense-wire")).toBe("Loose or broken sense wire");
});
