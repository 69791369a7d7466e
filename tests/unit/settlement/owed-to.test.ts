import { expect, test } from "vitest";
import { owedToDealers } from "@/lib/settlement/owed-to";

test("what is owed to whom adds lines, statements and reversals of a dealer, and never two currencies", () => {
  const north = { dealerName: "North", currency: "EUR" };
  const rows = owedToDealers([
    { ...north, amountMinor: 2000 },
    { dealerName: "South", currency: "EUR", amountMinor: 5000 },
    { ...north, amountMinor: -500 },
    { ...north, currency: "CHF", amountMinor: 700 },
    { dealerName: "East", currency: "EUR", amountMinor: 300 },
    { dealerName: "East", currency: "EUR", amountMinor: -300 },
  ]);
  expect(rows).toEqual([
    { dealerName: "North", currency: "CHF", amountMinor: 700 },
    { dealerName: "South", currency: "EUR", amountMinor: 5000 },
    { dealerName: "North", currency: "EUR", amountMinor: 1500 },
  ]);
  expect(owedToDealers([])).toEqual([]);
});
