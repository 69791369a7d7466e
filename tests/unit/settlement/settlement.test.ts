import fc from "fast-check";
import { expect, test } from "vitest";
import type { DecidableRemedy } from "@/lib/returns/decision.schema";
import type { ReturnStatus } from "@/lib/returns/return-status";
import { balances } from "@/lib/settlement/balance";
import { claimSchema, rateSchema } from "@/lib/settlement/claim.schema";
import { isAboveLineLimit } from "@/lib/settlement/line-limit";
import {
  type LineMoveName,
  type LineStanding,
  type LineState,
  lineMoveNames,
  lineMoves,
  lineStates,
  refusalOfLineMove,
} from "@/lib/settlement/line-moves";
import { labourAmount, plainAmount, sayMoney } from "@/lib/settlement/money";
import { isOutsideSettlement, whyNotOwed } from "@/lib/settlement/owed-for";
import {
  endsAnything,
  type Rate,
  type RateEnd,
  rateOn,
  ratesHolding,
  untilOf,
  whyNoSecondCurrency,
} from "@/lib/settlement/rates";
import { statementCsv } from "@/lib/settlement/statement-csv";
import { isCountry } from "@/lib/transport/country-name";
import { calendarDate as day } from "@/lib/warranty/calendar";

const standing = {
  version: 3,
  claimedByUserId: "lodger",
  checkedByUserId: null,
  isAboveLimit: false,
  isReversed: false,
  isReversalOpen: false,
  isReversal: false,
  notOwed: null,
  isOutsideSettlement: false,
};
const ask = (name: LineMoveName, state: LineState, by = "other", over: Partial<LineStanding> = {}) =>
  refusalOfLineMove({ ...standing, ...over, state }, { name, byUserId: by, seenVersion: 3, reason: "because" });

// Written out once more by hand, so that a slip in the table must be made twice.
test.for([
  ["check", ["claimed"]],
  ["approve", ["checked"]],
  ["refuse", ["claimed", "checked"]], // and "approved" once it is not owed any more, below
  ["put-in-statement", ["approved"]],
  ["pay", ["in-statement"]],
  ["reverse", ["in-statement", "paid"]],
] as const)("a line is moved by %s from %j only", ([name, from]) => {
  for (const state of lineStates) {
    expect(ask(name, state)).toBe(from.some((known) => known === state) ? null : "not-from-here");
  }
});

test("whoever claimed a line neither approves nor refuses it", () => {
  expect(ask("approve", "checked", "lodger")).toBe("same-person");
  expect(ask("refuse", "claimed", "lodger")).toBe("same-person");
  expect(ask("check", "claimed", "lodger")).toBeNull();
});

test("above the limit whoever checked a line does not approve it; below, and to refuse it, the same person may", () => {
  const checked = { checkedByUserId: "checker", isAboveLimit: true };
  expect(ask("approve", "checked", "checker", checked)).toBe("checker-approves");
  expect(ask("approve", "checked", "other", checked)).toBeNull();
  expect(ask("refuse", "checked", "checker", checked)).toBeNull();
  expect(ask("approve", "checked", "checker", { ...checked, isAboveLimit: false })).toBeNull();
  const limit = { refundLimitMinor: 50_000, refundLimitCurrency: "EUR" };
  const above = (amountMinor: number, currency: string, over: object = {}, ofReturnMinor = 0, ofDayMinor = 0) =>
    isAboveLineLimit({ amountMinor, currency }, { ...limit, ...over }, { ofReturnMinor, ofDayMinor });
  // Versions from before it was asked have the limit of a refund.
  expect([above(50_000, "EUR"), above(50_001, "EUR"), above(-50_001, "EUR"), above(1, "CHF")]).toEqual([
    false,
    true,
    true,
    true,
  ]);
  expect(above(10_001, "EUR", { lineLimitMinor: 10_000 })).toBe(true);
  // Many small lines of one return are no way round it.
  expect([above(10_000, "EUR", {}, 40_000), above(10_001, "EUR", {}, 40_000), above(-1, "EUR", {}, 50_000)]).toEqual([
    false,
    true,
    true,
  ]);
  // Nor are lines of many returns, over a day; a version that does not say how much has five times the limit of a line.
  expect([above(50_000, "EUR", {}, 0, 200_000), above(50_000, "EUR", {}, 0, 200_001)]).toEqual([false, true]);
  expect([
    above(1, "EUR", { dayLimitMinor: 60_000 }, 0, 60_000),
    above(1, "EUR", { dayLimitMinor: 60_001 }, 0, 60_000),
  ]).toEqual([true, false]);
});

test("a stale version, a missing reason, a second reversal and a reversal of a reversal are refused", () => {
  const move = { name: "reverse", byUserId: "x", seenVersion: 3, reason: "wrong part" } as const;
  const paid = { ...standing, state: "paid" } as const;
  expect(refusalOfLineMove(paid, { ...move, seenVersion: 2 })).toBe("someone-changed-this");
  expect(refusalOfLineMove(paid, { ...move, reason: " " })).toBe("reason-missing");
  expect(ask("reverse", "paid", "x", { isReversed: true })).toBe("reversed-already");
  expect(ask("reverse", "paid", "x", { isReversalOpen: true })).toBe("reversal-open");
  expect(ask("reverse", "paid", "x", { isReversal: true })).toBe("reversal-of-a-reversal");
});

const nothingDone = { packWasSent: false, packWasReceived: false, packWasExchanged: false, helpWasGiven: false };
const takeIn = { kind: "labour", operation: "take-in" };

// Rule of this house: what is claimed has to have happened by the history of the return.
test.for([
  ["freight", "", "not-received", "packWasReceived"],
  ["labour", "pack-for-carrier", "not-sent", "packWasSent"],
  ["labour", "pack-for-carrier", "not-sent", "packWasReceived"],
  ["labour", "exchange", "not-exchanged", "packWasExchanged"],
  ["labour", "remote-fix", "no-help", "helpWasGiven"],
  ["labour", "take-in", null, "packWasSent"],
  ["labour", "read-out", null, "packWasSent"],
  ["reversal", "exchange", null, "packWasSent"],
] as const)("%s %s is %j until %s", ([kind, operation, why, fact]) => {
  const of = { status: "sent-in", decidedRemedy: null, isPaidWithJoined: false } as const;
  expect(whyNotOwed({ ...of, done: nothingDone }, { kind, operation })).toBe(why);
  expect(whyNotOwed({ ...of, done: { ...nothingDone, [fact]: true } }, { kind, operation })).toBeNull();
});

test("what came after the time between maker and dealer is approved with a reason only", () => {
  const approve = { name: "approve", byUserId: "a", seenVersion: 3 } as const;
  const late = { ...standing, state: "checked", isOutsideSettlement: true } as const;
  expect(refusalOfLineMove(late, { ...approve, reason: " " })).toBe("outside-settlement");
  expect(refusalOfLineMove(late, { ...approve, reason: "Agreed with the dealer." })).toBeNull();
  const told = { toldOn: day("2026-03-16"), settlementEndsOn: day("2026-03-15") };
  expect(isOutsideSettlement({ ...told, outcome: "in-cover" })).toBe(true);
  expect(isOutsideSettlement({ ...told, outcome: "covered-by-field-action" })).toBe(false);
  expect(isOutsideSettlement({ ...told, outcome: "in-cover", settlementEndsOn: day("2026-03-16") })).toBe(false);
  expect(isOutsideSettlement({ ...told, outcome: "in-cover", settlementEndsOn: null })).toBe(false);
  expect(isOutsideSettlement({ ...told, outcome: "outside-makers-guarantee", settlementEndsOn: null })).toBe(true);
  // Where nobody can tell yet, silence would say that it came in time.
  expect(isOutsideSettlement({ ...told, outcome: "cannot-tell-yet", settlementEndsOn: null })).toBe(true);
  expect(isOutsideSettlement({ ...told, outcome: "cannot-tell-yet" })).toBe(true);
  expect(isOutsideSettlement({ ...told, outcome: "cannot-tell-yet", settlementEndsOn: day("2026-03-16") })).toBe(false);
});

// Common practice, no source: what is refused is not paid, and one complaint is not paid twice.
test("nothing is claimed, checked or approved for a return that is refused or over, and every such line can be refused", () => {
  const why = (status: ReturnStatus, decidedRemedy: DecidableRemedy | null = null) =>
    whyNotOwed({ status, decidedRemedy, isPaidWithJoined: false, done: nothingDone }, takeIn);
  expect([why("withdrawn"), why("lapsed"), why("merged")]).toEqual(["return-ended", "return-ended", "return-merged"]);
  expect(why("closed", "refuse")).toBe("return-refused");
  expect([why("sent-in"), why("closed", "repair"), why("solved-remotely", "remote-fix")]).toEqual([null, null, null]);
  const refused = { notOwed: "return-refused" } as const;
  expect(ask("check", "claimed", "a", refused)).toBe("return-refused");
  expect(ask("approve", "checked", "a", refused)).toBe("return-refused");
  expect(ask("refuse", "checked", "a", refused)).toBeNull();
  expect(ask("refuse", "approved", "a", refused)).toBeNull();
  // What is in a statement already is paid with it once its reversal was approved; a claim may still be refused.
  expect(ask("put-in-statement", "approved", "a", refused)).toBe("return-refused");
  expect(ask("pay", "in-statement", "a", refused)).toBe("return-refused");
  expect(ask("pay", "in-statement", "a", { ...refused, isReversalOpen: true })).toBe("return-refused");
  expect(ask("pay", "in-statement", "a", { ...refused, isReversed: true })).toBeNull();
  // Two returns of one complaint: what was approved before they were joined is paid, and once.
  const joined = { status: "merged", decidedRemedy: null, done: nothingDone } as const;
  expect(whyNotOwed({ ...joined, isPaidWithJoined: true }, takeIn)).toBe("paid-with-joined");
  expect(ask("approve", "checked", "a", { notOwed: "return-merged" })).toBe("return-merged");
  expect(ask("put-in-statement", "approved", "a", { notOwed: "return-merged" })).toBeNull();
  expect(ask("put-in-statement", "approved", "a", { notOwed: "paid-with-joined" })).toBe("paid-with-joined");
  // What was paid before the refusal can be taken back, and taking it back goes the whole way.
  expect(ask("reverse", "paid", "a", refused)).toBeNull();
  expect(ask("check", "claimed", "a", { ...refused, isReversal: true })).toBeNull();
});

test("no sequence of moves pays a line twice, or pays one that nobody else approved", () => {
  const anyMoves = fc.array(fc.tuple(fc.constantFrom(...lineMoveNames), fc.constantFrom("lodger", "a", "b")), {
    maxLength: 25,
  });
  fc.assert(
    fc.property(anyMoves, (moves) => {
      let state: LineState = "claimed";
      let version = 1;
      let paid = 0;
      let approvedBy: string | null = null;
      for (const [name, byUserId] of moves) {
        const line = { ...standing, state, version };
        if (refusalOfLineMove(line, { name, byUserId, seenVersion: version, reason: "why" }) !== null) continue;
        const { to } = lineMoves[name];
        if (to === null) continue;
        if (to === "approved") approvedBy = byUserId;
        if (to === "paid") paid += 1;
        state = to;
        version += 1;
      }
      expect(paid).toBeLessThanOrEqual(1);
      if (paid === 1) expect(["a", "b"]).toContain(approvedBy);
    }),
    { numRuns: 500 },
  );
});

const rate = (over: Partial<Rate>): Rate => ({
  id: "r",
  kind: "labour",
  country: "DE",
  currency: "EUR",
  amountMinor: 6200,
  validFrom: day("2025-01-01"),
  setAt: new Date("2020-01-01T09:00:00Z"),
  ...over,
});

const inGermany = { kind: "labour", country: "DE", currency: "" } as const;

test("the latest rate that has begun in the country counts, and without one nothing is made up", () => {
  const rates = [rate({}), rate({ amountMinor: 6500, validFrom: day("2026-01-01") }), rate({ country: "FR" })];
  const on = (date: string, over: object = {}) => rateOn(rates, [], { ...inGermany, ...over }, day(date));
  expect(on("2025-12-31")).toMatchObject({ rate: { amountMinor: 6200 } });
  expect(on("2026-01-01")).toMatchObject({ rate: { amountMinor: 6500 } });
  expect(on("2024-12-31")).toEqual({
    kind: "no-rate",
    sentence: "No rate for labour is set for DE on 31 December 2024. Ask finance to set one first.",
  });
  expect(on("2026-01-01", { kind: "freight" }).kind).toBe("no-rate");
  expect(on("2026-01-01", { currency: "USD" })).toEqual({
    kind: "not-this-currency",
    sentence: "No rate for labour is set for DE in USD on 1 January 2026, only in EUR.",
  });
});

test("after a change of currency the old rates end on their day, and nobody chooses the better of two", () => {
  // Croatia paid in kuna until 31 December 2022 and in euro since (Council Regulation (EU) 2022/1207).
  const inCroatia = { ...inGermany, country: "HR" };
  const kuna = rate({ country: "HR", currency: "HRK", amountMinor: 38_000, validFrom: day("2022-01-01") });
  const euro = rate({ country: "HR", amountMinor: 5000, validFrom: day("2023-01-01") });
  expect(rateOn([kuna, euro], [], inCroatia, day("2023-01-01"))).toEqual({
    kind: "not-this-currency",
    sentence:
      "HR has rates for labour in EUR and HRK on 1 January 2023, and nobody chooses between them. Ask finance to end one.",
  });
  for (const currency of ["EUR", "HRK"])
    expect(rateOn([kuna, euro], [], { ...inCroatia, currency }, day("2023-01-01")).kind).toBe("not-this-currency");
  const endedAt = new Date("2022-11-01T09:00:00Z");
  const end = { kind: "labour", country: "HR", currency: "HRK", endsOn: day("2023-01-01"), setAt: endedAt } as const;
  expect(rateOn([kuna, euro], [end], inCroatia, day("2023-01-01"))).toMatchObject({ rate: { currency: "EUR" } });
  expect(rateOn([kuna, euro], [end], inCroatia, day("2022-12-31"))).toMatchObject({ rate: { currency: "HRK" } });
  // An end of another country or kind ends nothing here; a later rate in the same currency, set after it, begins anew.
  for (const other of [{ country: "SI" }, { kind: "freight" as const }, { currency: "EUR" }])
    expect(rateOn([kuna], [{ ...end, ...other }], inCroatia, day("2023-01-01"))).toMatchObject({ kind: "rate" });
  const again = rate({ ...kuna, validFrom: day("2024-01-01"), setAt: new Date("2022-11-02T09:00:00Z") });
  expect(rateOn([kuna, again], [end], inCroatia, day("2023-06-01")).kind).toBe("no-rate");
  expect(rateOn([kuna, again], [end], inCroatia, day("2024-01-01"))).toMatchObject({ kind: "rate" });
  // A second currency begins only where the first has ended; one that begins later stands in the way as well.
  expect(whyNoSecondCurrency([kuna], [], euro)).toMatch(/in HRK then/);
  expect(whyNoSecondCurrency([kuna], [end], euro)).toBeNull();
  expect(whyNoSecondCurrency([euro], [], kuna)).toMatch(/in EUR then/);
  expect(whyNoSecondCurrency([kuna], [], { ...kuna, validFrom: day("2022-07-01") })).toBeNull();
});

const inCountry = (currency: string, validFrom: string, setOn: string) =>
  rate({ country: "HR", currency, validFrom: day(validFrom), setAt: new Date(setOn) });
const endOf = (currency: string, endsOn: string, setOn: string) =>
  ({ kind: "labour", country: "HR", currency, endsOn: day(endsOn), setAt: new Date(setOn) }) as const;
const currenciesOn = (rates: readonly Rate[], ends: readonly RateEnd[], on: string) =>
  ratesHolding(rates, ends, { kind: "labour", country: "HR" }, day(on)).map(({ currency }) => currency);

test("a rate that was set by mistake is ended from its own first day, and the right one begins then", () => {
  const wrong = inCountry("EUR", "2027-01-01", "2026-11-01");
  const ends = [endOf("EUR", "2027-01-01", "2026-11-02")];
  const right = inCountry("CHF", "2027-01-01", "2026-11-03");
  expect(currenciesOn([wrong], ends, "2027-01-01")).toEqual([]);
  expect(whyNoSecondCurrency([wrong], ends, right)).toBeNull();
  expect(currenciesOn([wrong, right], ends, "2027-02-01")).toEqual(["CHF"]);
  expect(untilOf(wrong, [wrong, right], ends)).toBe("2027-01-01");
  // Set after the end, for the same day, a rate of the same currency holds.
  const anew = { ...inCountry("EUR", "2027-01-01", "2026-11-04"), id: "anew" };
  expect(currenciesOn([anew], ends, "2027-01-01")).toEqual(["EUR"]);
  expect(untilOf(anew, [anew], ends)).toBeNull();
});

test("a rate in the currency that ends can be raised before a change-over that is prepared, and the change taken back", () => {
  const kuna = inCountry("HRK", "2022-01-01", "2021-12-01");
  const euro = inCountry("EUR", "2023-01-01", "2022-10-02");
  const ends = [endOf("HRK", "2023-01-01", "2022-10-01")];
  const raised = inCountry("HRK", "2022-12-01", "2022-10-03");
  expect(whyNoSecondCurrency([kuna, euro], ends, raised)).toBeNull();
  expect(currenciesOn([kuna, euro, raised], ends, "2022-12-31")).toEqual(["HRK"]);
  expect(currenciesOn([kuna, euro, raised], ends, "2023-01-01")).toEqual(["EUR"]);
  expect(untilOf(kuna, [kuna, euro, raised], ends)).toBe("2022-12-01");
  expect(untilOf(raised, [kuna, euro, raised], ends)).toBe("2023-01-01");
  // Nothing else in euro or kuna from the day of the change on.
  expect(whyNoSecondCurrency([kuna, euro], ends, { ...raised, validFrom: day("2023-01-01") })).toMatch(/in EUR/);
  const meant = { kind: "labour", country: "HR" } as const;
  expect(endsAnything([kuna, euro], ends, { ...meant, currency: "EUR", endsOn: day("2022-12-01") })).toBe(true);
  const takenBack = [...ends, endOf("EUR", "2022-12-01", "2022-10-04")];
  expect(currenciesOn([kuna, euro], takenBack, "2023-01-01")).toEqual([]);
  expect(endsAnything([kuna, euro], takenBack, { ...meant, currency: "EUR", endsOn: day("2023-06-01") })).toBe(false);
  expect(endsAnything([kuna, euro], ends, { ...meant, currency: "HRK", endsOn: day("2023-06-01") })).toBe(false);
});

test("an end ends what was set to begin later as well, so that nothing revives beside the next currency", () => {
  const rates = [inCountry("HRK", "2022-01-01", "2021-12-01"), inCountry("HRK", "2023-06-01", "2022-09-01")];
  const ends = [endOf("HRK", "2023-01-01", "2022-10-01")];
  const euro = inCountry("EUR", "2023-01-01", "2022-10-02");
  expect(currenciesOn(rates, ends, "2023-06-01")).toEqual([]);
  expect(whyNoSecondCurrency(rates, ends, euro)).toBeNull();
  expect(rates.map((one) => untilOf(one, rates, ends))).toEqual(["2023-01-01", "2023-01-01"]);
  // One that was set after the end holds, whatever was ended that would have begun after it.
  const later = inCountry("HRK", "2023-03-01", "2022-10-03");
  expect(currenciesOn([...rates, later], ends, "2023-07-01")).toEqual(["HRK"]);
});

test("a rate is an amount of its currency, in a currency and a country that there are", () => {
  const typed = { kind: "labour", country: "de", currency: "eur", amount: "62,50", validFrom: "2026-01-01" };
  const read = (over: object) => rateSchema.safeParse({ ...typed, ...over });
  const problem = (over: object) => read(over).error?.issues.map(({ path }) => path[0]);
  expect(read({}).data).toMatchObject({ country: "DE", currency: "EUR", amountMinor: 6250 });
  // ISO 4217: yen have no smaller unit, a Kuwaiti dinar has a thousand fils.
  expect(problem({ country: "JP", currency: "JPY", amount: "62.50" })).toEqual(["amount"]);
  expect(read({ country: "KW", currency: "KWD", amount: "18.505" }).data?.amountMinor).toBe(18_505);
  expect(problem({ amount: "0" })).toEqual(["amount"]);
  expect(problem({ amount: "18.505" })).toEqual(["amount"]);
  expect(problem({ currency: "EUE" })).toEqual(["currency"]);
  for (const country of ["ZZ", "UK", "EU", "QQ", "D"]) expect(problem({ country }), country).toEqual(["country"]);
  expect(problem({ validFrom: "2026-02-30" })).toEqual(["validFrom"]);
});

test("the countries are those of ISO 3166-1, and Kosovo", () => {
  const letters = [..."ABCDEFGHIJKLMNOPQRSTUVWXYZ"];
  const countries = letters.flatMap((first) => letters.map((second) => first + second)).filter(isCountry);
  // ISO 3166-1 has 249 officially assigned codes (iso.org, Country codes collection); XK is user-assigned and widely used.
  expect(countries).toHaveLength(250);
  expect(countries).toContain("XK");
});

test("minutes at a rate an hour are rounded half up to the cent", () => {
  expect(labourAmount(20, 6200)).toBe(2067);
  expect(labourAmount(60, 6200)).toBe(6200);
  expect(labourAmount(1, 30)).toBe(1);
  expect(labourAmount(1, 29)).toBe(0);
  expect(() => labourAmount(0, 6200)).toThrow(RangeError);
});

test("amounts are written with their currency by code", () => {
  expect(sayMoney(123450, "EUR")).toBe("1,234.50 EUR");
  expect(sayMoney(-5, "EUR")).toBe("-0.05 EUR");
  expect(sayMoney(1234567, "JPY")).toBe("1,234,567 JPY");
  expect(plainAmount(-123456789, "USD")).toBe("-1234567.89");
});

test("amounts of different currencies are never added, and a reversal takes back exactly what was paid", () => {
  const line = (amountMinor: number, state: LineState, currency = "EUR") => ({
    amountMinor,
    state,
    currency,
    lines: 1,
  });
  expect(
    balances([
      line(100, "claimed"),
      line(200, "approved"),
      line(300, "paid"),
      line(-300, "paid"),
      line(7, "refused"),
      line(900, "paid", "AUD"),
    ]),
  ).toEqual([
    { currency: "AUD", openMinor: 0, owedMinor: 0, paidMinor: 900, lines: 1 },
    { currency: "EUR", openMinor: 100, owedMinor: 200, paidMinor: 0, lines: 4 },
  ]);
});

test("more minutes than are paid for the work are refused at the field", () => {
  const claim = { clientKey: "0192e4a0-1111-4222-8333-444455556666", reference: "R-26-00001-X", kind: "labour" };
  const read = (over: object) => claimSchema.safeParse({ ...claim, ...over });
  expect(read({ operation: "take-in", minutes: "20" }).success).toBe(true);
  expect(read({ operation: "take-in", minutes: "21" }).error?.issues).toMatchObject([
    { path: ["minutes"], message: "At most 20 minutes are paid for this work." },
  ]);
  expect(read({ operation: "", minutes: "5" }).error?.issues).toMatchObject([{ path: ["operation"] }]);
  expect(read({ kind: "freight" }).success).toBe(true);
});

test("a reason that a spreadsheet would take for a formula is made text; a negative amount stays a number", () => {
  const csv = statementCsv("2026-11-25", [
    {
      reference: "R-26-00001-X",
      what: "Reversal",
      state: "Paid",
      claimedOn: "2026-11-01",
      statementNumber: 4,
      paidOn: null,
      currency: "EUR",
      amountMinor: -2067,
      rateFrom: null,
      reason: '=HYPERLINK("x")',
    },
  ]);
  const [, row] = csv.split("\r\n");
  expect(row).toBe(`2026-11-25,R-26-00001-X,Reversal,Paid,2026-11-01,4,,,EUR,-20.67,"'=HYPERLINK(""x"")"`);
});
