import { expect, test } from "vitest";
import { minorDigits, plainAmount, readAmount, sayMoney } from "@/lib/settlement/money";

// ISO 4217, table A.1 (from memory: verify): the yen has no minor unit, the Kuwaiti dinar a thousand fils, the euro a hundred cents.
test("an amount is read and said with the decimals of its currency, none, two or three", () => {
  expect(["JPY", "EUR", "KWD", "IQD", "HUF"].map(minorDigits)).toEqual([0, 2, 3, 3, 2]);
  expect(readAmount("12", "JPY")).toBe(12);
  expect(readAmount("12,5", "EUR")).toBe(1250);
  expect(readAmount("12.345", "KWD")).toBe(12_345);
  expect(sayMoney(12_345, "KWD")).toBe("12.345 KWD");
  expect(plainAmount(1_234_567, "BHD")).toBe("1234.567");
});

test("more decimals than the currency has are no amount", () => {
  expect(readAmount("12.5", "JPY")).toBeNull();
  expect(readAmount("12.345", "EUR")).toBeNull();
  expect(readAmount("12.3456", "KWD")).toBeNull();
});
