import { expect, test } from "vitest";
import { type LoanPackFacts, whyPackMayNotBeLent } from "@/lib/packs/loan-pack";

const fit: LoanPackFacts = {
  isReturnedPack: false,
  wasSold: false,
  cameAsReplacement: false,
  wasReplaced: false,
  hasOpenReturn: false,
  isSetApart: false,
  isOnHold: false,
  isLent: false,
  isAway: false,
  stops: [],
  isKept: false,
  isAtTheWorks: false,
  isElsewhere: false,
};
const cellStop = { title: "Cells fade", lotCode: "CELL-9" };

test("a pack of the own stock that nothing keeps may be lent", () => {
  expect(whyPackMayNotBeLent(fit)).toBeNull();
});

test.for<[string, Partial<LoanPackFacts>, RegExp]>([
  ["the returned pack", { isReturnedPack: true, hasOpenReturn: true }, /returned pack itself/],
  ["a replaced one", { wasReplaced: true }, /was replaced/],
  ["one in service", { wasSold: true }, /in service/],
  ["one in a return", { hasOpenReturn: true }, /return of this pack/],
  ["one set apart", { isSetApart: true, isElsewhere: true }, /set apart/],
  ["one under a hold", { isOnHold: true }, /legal hold/],
  ["one lent already", { isLent: true }, /lent/],
  ["one kept as a replacement", { isKept: true }, /kept/],
  // Whose it is is told before why it is stopped.
  ["another dealer's", { isElsewhere: true, stops: [cellStop] }, /not in the stock of the dealer/],
  ["one that lies at the works", { isAtTheWorks: true, isElsewhere: true }, /needs a transport class/],
])("refused at the field: %s", ([, over, words]) => {
  expect(whyPackMayNotBeLent({ ...fit, ...over })).toMatch(words);
});

test("a stop is told without the lot, which a dealer does not see; an unknown serial is asked again", () => {
  expect(whyPackMayNotBeLent({ ...fit, stops: [cellStop] })).toBe("This pack must not go out: Cells fade.");
  expect(whyPackMayNotBeLent(null)).toMatch(/Compare it with the label/);
});
