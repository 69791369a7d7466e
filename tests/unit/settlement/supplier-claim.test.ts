import { expect, test } from "vitest";
import { type Role, roles } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import {
  refusalOfSupplierMove,
  type SupplierRefusal,
  type SupplierStanding,
  type SupplierState,
  supplierMoveNames,
  supplierMoves,
  supplierStates,
} from "@/lib/settlement/supplier-claim";
import { supplierClaimSchema } from "@/lib/settlement/supplier-claim.schema";
import { supplierCsv } from "@/lib/settlement/supplier-csv";
import { actorOf } from "@/tests/unit/returns/any-actor";

// possible -> notified -> agreed share -> recovered / written off: reference/trade.md 2.3, money track; by manager and finance: 2.1
// and 2.4 ("Money: finance/manager"). Who may not be the same person is a rule of this house.
const listed: readonly (readonly [(typeof supplierMoveNames)[number], SupplierState, SupplierState])[] = [
  ["notify", "possible", "notified"],
  ["agree-share", "notified", "share-agreed"],
  ["recover", "share-agreed", "recovered"],
  ["write-off", "possible", "written-off"],
  ["write-off", "notified", "written-off"],
  ["write-off", "share-agreed", "written-off"],
];
const line: SupplierStanding = {
  state: "possible",
  version: 3,
  amountMinor: 20_000,
  agreedMinor: 12_000,
  openedByUserId: "opener",
  agreedByUserId: "agreed",
};
const said = { seenVersion: 3, reason: "Letter of 3 March.", sharePercent: 60, amountMinor: 12_000, byUserId: "other" };
const whyNot = (
  name: (typeof supplierMoveNames)[number],
  over: Partial<typeof said>,
  at: Partial<SupplierStanding> = {},
) =>
  refusalOfSupplierMove(
    { ...line, state: supplierMoves[name].from[0] ?? "possible", ...at },
    { ...said, ...over, name },
  );

test("a supplier's line goes the listed ways and no other, and what is over stays over", () => {
  for (const name of supplierMoveNames)
    for (const state of supplierStates) {
      const way = listed.find(([move, from]) => move === name && from === state);
      expect(whyNot(name, {}, { state }), `${name} ${state}`).toBe(way === undefined ? "not-from-here" : null);
      if (way !== undefined) expect(supplierMoves[name].to).toBe(way[2]);
    }
});

test("manager and finance follow it, finance alone records money, a manager alone opens it and gives it up", () => {
  const hands: Readonly<Record<string, readonly Role[]>> = {
    "open-supplier-claim": ["manager"],
    notify: ["manager", "finance"],
    "agree-share": ["manager", "finance"],
    recover: ["finance"],
    "write-off": ["manager"],
  };
  for (const role of roles) {
    expect(may(actorOf(role), "open-supplier-claim"), role).toBe(hands["open-supplier-claim"]?.includes(role));
    for (const name of supplierMoveNames)
      expect(may(actorOf(role), supplierMoves[name].act), `${name} ${role}`).toBe(hands[name]?.includes(role));
  }
});

test.for<[string, SupplierRefusal, () => SupplierRefusal | null]>([
  ["a stale version", "someone-changed-this", () => whyNot("notify", { seenVersion: 2 })],
  ["no reason", "reason-missing", () => whyNot("notify", { reason: " " })],
  ["a share of nothing", "share-missing", () => whyNot("agree-share", { sharePercent: 0 })],
  ["a share above all of it", "share-missing", () => whyNot("agree-share", { sharePercent: 100.5 })],
  ["an agreement on nothing", "amount-missing", () => whyNot("agree-share", { amountMinor: 0 })],
  ["more agreed than it cost", "more-than-it-cost", () => whyNot("agree-share", { amountMinor: 20_001 })],
  ["more recovered than agreed", "more-than-agreed", () => whyNot("recover", { amountMinor: 12_001 })],
  ["nothing recovered", "amount-missing", () => whyNot("recover", { amountMinor: -1 })],
  ["money recorded by whoever agreed", "same-person", () => whyNot("recover", { byUserId: "agreed" })],
  ["given up by whoever opened it", "same-person", () => whyNot("write-off", { byUserId: "opener" })],
])("%s is refused", ([, why, ask]) => {
  expect(ask()).toBe(why);
});

test("an amount is read in its currency, and a line without one, without a lot or with a day that is none is refused at the field", () => {
  const form = {
    reference: "R-26-00001-X",
    lotCode: "CBR-09",
    currency: "eur",
    amount: "1234,50",
    noticeBy: "",
    why: "Report 7.",
  };
  expect(supplierClaimSchema.parse(form)).toMatchObject({ currency: "EUR", amountMinor: 123_450, noticeBy: null });
  expect(supplierClaimSchema.parse({ ...form, currency: "JPY", amount: "1200" })).toMatchObject({ amountMinor: 1200 });
  const at = (over: Partial<typeof form>) =>
    supplierClaimSchema.safeParse({ ...form, ...over }).error?.issues.map(({ path }) => path.join("."));
  expect(at({ currency: "JPY", amount: "12.50" })).toEqual(["amount"]);
  expect(at({ amount: "0" })).toEqual(["amount"]);
  expect(at({ currency: "Euro" })).toEqual(["currency"]);
  expect(at({ lotCode: " " })).toEqual(["lotCode"]);
  expect(at({ noticeBy: "2026-02-30" })).toEqual(["noticeBy"]);
  expect(at({ why: "" })).toEqual(["why"]);
});

test("a line leaves as a row with its amounts as numbers, and what is not agreed yet is empty", () => {
  const row = {
    supplier: "=Acme",
    lotCode: "CBR-09",
    reference: "R-26-00001-X",
    state: "notified",
    openedOn: "2026-11-01",
    noticeBy: null,
    currency: "EUR",
    amountMinor: 20_000,
    sharePercent: null,
    agreedMinor: null,
    recoveredMinor: null,
    why: "Report 7.",
  } as const;
  expect(supplierCsv("2026-11-30", [row]).split("\r\n")[1]).toBe(
    `2026-11-30,"'=Acme",CBR-09,R-26-00001-X,The supplier is told,2026-11-01,,EUR,200.00,,,,Report 7.`,
  );
});
