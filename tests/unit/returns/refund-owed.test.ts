import { expect, test } from "vitest";
import { refundOwed } from "@/lib/returns/refund-owed";

const euro = (minor: number) => ({ minor, currency: "EUR" });

// Rule of this house: a decided refund is the whole of its complaint.
test.for([
  ["nothing was paid before", 10000, [], { minor: 10000, paidMinor: 0 }],
  ["a part was paid before", 10000, [4000], { minor: 6000, paidMinor: 4000 }],
  ["parts were paid before", 10000, [4000, 1000], { minor: 5000, paidMinor: 5000 }],
  ["all was paid before", 4000, [4000], { minor: 0, paidMinor: 4000 }],
  ["more was paid before than is decided now", 4000, [9000], { minor: 0, paidMinor: 9000 }],
] as const)("what is owed where %s", ([, decided, paid, owed]) => {
  expect(refundOwed(euro(decided), paid.map(euro))).toEqual({ kind: "owed", currency: "EUR", ...owed });
});

test("money in another currency is taken from nothing, and a payment of nothing is no payment", () => {
  const francs = { minor: 4000, currency: "CHF" };
  expect(refundOwed(euro(10000), [francs])).toEqual({ kind: "other-currency", paid: francs });
  expect(refundOwed(euro(10000), [{ ...francs, minor: 0 }])).toMatchObject({ kind: "owed", minor: 10000 });
});
