import fc from "fast-check";
import { expect, test } from "vitest";
import { calendarDate, daysBetween, plusDays } from "@/lib/warranty/calendar";
import { coverOf, LEGAL_RIGHTS } from "@/lib/warranty/cover";
import type { CoverFacts } from "@/lib/warranty/cover-facts.schema";
import {
  leapDayRules,
  policyInForce,
  replacementRules,
  type WarrantyPolicy,
  warrantyPolicySchema,
} from "@/lib/warranty/policy.schema";
import { windowEnd } from "@/lib/warranty/window-end";
import { whatWouldChange } from "@/lib/warranty/would-change";
import { anyDate } from "./any-date";

const day = calendarDate;
const policy = (over: Partial<WarrantyPolicy> = {}): WarrantyPolicy => ({
  ...warrantyPolicySchema.parse({ version: "2024-a", validFrom: "2020-01-01", months: 24 }),
  ...over,
});
const soldOn = day("2024-03-15");
const sold = (toldOn: string, over: Partial<CoverFacts> = {}): CoverFacts => ({
  start: { deliveryReceiptOn: soldOn },
  toldOn: day(toldOn),
  ...over,
});

const anyPolicy = fc
  .record({
    months: fc.integer({ min: 1, max: 60 }),
    graceDays: fc.integer({ min: 0, max: 30 }),
    leapDay: fc.constantFrom(...leapDayRules),
    stockAgeCapMonths: fc.option(fc.integer({ min: 0, max: 24 })),
    replacementRule: fc.constantFrom(...replacementRules),
    minimumDays: fc.integer({ min: 0, max: 365 }),
  })
  .map(policy);
const anyReplacements = fc.array(
  anyDate.map((deliveredOn) => ({ deliveredOn })),
  { maxLength: 4 },
);

test("the last day is in cover, the days of grace are by grace, the next day is outside", () => {
  const withGrace = policy({ graceDays: 3 });
  expect(coverOf(sold("2026-03-15"), withGrace).outcome).toBe("in-cover");
  expect(coverOf(sold("2026-03-16"), withGrace).outcome).toBe("in-cover-by-grace");
  expect(coverOf(sold("2026-03-18"), withGrace).outcome).toBe("in-cover-by-grace");
  expect(coverOf(sold("2026-03-19"), withGrace).outcome).toBe("outside-makers-guarantee");
});

test("every answer says that rights against the seller stand, and none says there are no rights", () => {
  fc.assert(
    fc.property(
      fc.option(anyDate, { nil: undefined }),
      fc.option(anyDate, { nil: undefined }),
      anyDate,
      anyPolicy,
      anyReplacements,
      (receipt, dispatchedOn, toldOn, terms, replacements) => {
        const { because, policyVersion } = coverOf(
          { start: { deliveryReceiptOn: receipt, dispatchedOn }, toldOn, replacements },
          terms,
        );
        expect(because).toContain(LEGAL_RIGHTS);
        expect(because.join(" ")).not.toMatch(/no rights|expired|void|lost/i);
        expect(policyVersion).toBe("2024-a");
      },
    ),
  );
});

test("cover never ends before it starts, nor grace before cover", () => {
  fc.assert(
    fc.property(anyDate, anyDate, anyPolicy, anyReplacements, (deliveryReceiptOn, toldOn, terms, replacements) => {
      const cover = coverOf({ start: { deliveryReceiptOn }, toldOn, replacements }, terms);
      if (cover.outcome === "cannot-tell-yet" || cover.outcome === "covered-by-field-action") return;
      expect(cover.endsOn >= cover.startsOn).toBe(true);
      expect(cover.graceEndsOn >= cover.endsOn).toBe(true);
    }),
  );
});

test("telling later never makes the answer better while no replacement comes between", () => {
  const order = ["in-cover", "in-cover-by-grace", "outside-makers-guarantee"];
  fc.assert(
    fc.property(anyDate, fc.nat(2500), fc.nat(2500), anyPolicy, (deliveryReceiptOn, first, more, terms) => {
      const outcome = (days: number) =>
        coverOf({ start: { deliveryReceiptOn }, toldOn: plusDays(deliveryReceiptOn, days) }, terms).outcome;
      const [early, late] = [outcome(first), outcome(first + more)];
      expect(order.indexOf(early)).toBeGreaterThanOrEqual(0);
      expect(order.indexOf(late)).toBeGreaterThanOrEqual(order.indexOf(early));
    }),
  );
});

test("a chain of replacements is computed from the first pack, in any order of the list", () => {
  fc.assert(
    fc.property(anyDate, anyPolicy, fc.array(fc.nat(900), { minLength: 1, maxLength: 4 }), (start, terms, after) => {
      const deliveries = after.map((days) => plusDays(start, days));
      const last = plusDays(start, Math.max(...after));
      const rootEnd = windowEnd(start, terms.months, terms.leapDay);
      const facts = { start: { deliveryReceiptOn: start }, toldOn: plusDays(start, 1000) };
      const cover = coverOf({ ...facts, replacements: deliveries.map((deliveredOn) => ({ deliveredOn })) }, terms);
      const reversed = coverOf(
        { ...facts, replacements: deliveries.toReversed().map((deliveredOn) => ({ deliveredOn })) },
        terms,
      );
      expect(reversed).toEqual(cover);
      if (cover.outcome === "cannot-tell-yet") throw new Error("sold and told are known");
      const ruled = {
        remainder: rootEnd,
        minimum: plusDays(last, terms.minimumDays),
        restart: windowEnd(last, terms.months, terms.leapDay),
      }[terms.replacementRule];
      expect(cover.endsOn).toBe([ruled, rootEnd].toSorted().at(-1));
      expect(cover.startsOn).toBe(start);
    }),
  );
});

test("a replacement delivered after the complaint is its remedy and does not make it timely", () => {
  const replacements = [{ deliveredOn: day("2026-05-01") }];
  const cover = coverOf(sold("2026-04-01", { replacements }), policy({ replacementRule: "restart" }));
  expect(cover).toMatchObject({ outcome: "outside-makers-guarantee", endsOn: "2026-03-15" });
  expect(cover.because.join(" ")).toMatch(/after the complaint does not count/);
});

test("without a sale and without a dispatch nothing can be told, and the answer says what to ask", () => {
  const cover = coverOf({ start: {}, toldOn: day("2026-01-01") }, policy({ stockAgeCapMonths: 12 }));
  expect(cover).toMatchObject({ outcome: "cannot-tell-yet", reason: "no-start-known", startsOn: null, endsOn: null });
  expect(cover.because[0]).toMatch(/Ask for the day of delivery/);
});

test("a dispatch without a limit to stock age gives no start: counting from dispatch would shorten the time", () => {
  const cover = coverOf({ start: { dispatchedOn: soldOn }, toldOn: day("2026-01-01") }, policy());
  expect(cover).toMatchObject({ outcome: "cannot-tell-yet", reason: "no-start-known" });
});

test("a limit to stock age never refuses a consumer: it settles between maker and dealer, and somebody asks", () => {
  const terms = policy({ stockAgeCapMonths: 6 });
  const cover = coverOf({ start: { dispatchedOn: day("2023-01-31") }, toldOn: day("2026-01-01") }, terms);
  expect(cover).toMatchObject({
    outcome: "cannot-tell-yet",
    reason: "only-the-shelf-limit-known",
    startsOn: "2023-07-31",
    endsOn: null,
    settlement: { startsOn: "2023-07-31", endsOn: "2025-07-31" },
  });
  expect(cover.because.join(" ")).toMatch(/between maker and dealer only and must not be used to refuse a consumer/);
  expect(cover.because.join(" ")).not.toMatch(/outside the maker's guarantee/);
});

test("an estimate from a distributor's sale covers, and never refuses: past its end somebody asks for the proof", () => {
  const start = { distributorSale: { soldOn: day("2023-01-15"), averageShelfDays: 60 } };
  const within = coverOf({ start, toldOn: day("2025-03-16") }, policy());
  expect(within).toMatchObject({ outcome: "in-cover", startsOn: "2023-03-16", endsOn: "2025-03-16" });
  expect(within.because.join(" ")).toMatch(/ask for the proof of purchase/);
  expect(
    whatWouldChange({ start, toldOn: day("2025-03-16") }, { policy: policy(), policies: [policy()] }, within)[0],
  ).toBe("Told after 16 March 2025, the answer would be “cannot tell yet: ask for the proof of purchase”.");
  const past = coverOf({ start, toldOn: day("2025-03-17") }, policy());
  expect(past).toMatchObject({
    outcome: "cannot-tell-yet",
    reason: "only-an-estimate-known",
    startsOn: "2023-03-16",
    endsOn: null,
    evidence: "distributor-sale",
  });
  expect(past.because.join(" ")).toMatch(/nobody is refused on an estimate/);
  expect(past.because.join(" ")).not.toMatch(/outside the maker's guarantee/);
});

test("a sale after a long time on the shelf counts from the sale for the customer, from the limit for the dealer", () => {
  const facts = sold("2026-02-01", { start: { deliveryReceiptOn: soldOn, dispatchedOn: day("2022-12-01") } });
  expect(coverOf(facts, policy({ stockAgeCapMonths: 6 }))).toMatchObject({
    outcome: "in-cover",
    startsOn: "2024-03-15",
    settlement: { startsOn: "2023-06-01", endsOn: "2025-06-01" },
  });
});

test("told before the sale is a contradiction to be cleared, not a refusal", () => {
  expect(coverOf(sold("2024-03-14"), policy())).toMatchObject({
    outcome: "cannot-tell-yet",
    reason: "told-before-start",
  });
  expect(coverOf(sold("2024-03-15"), policy()).outcome).toBe("in-cover");
});

test("told before an estimated start is in cover: the pack was sold earlier than estimated", () => {
  const start = { dispatchedOn: day("2025-06-01") };
  expect(coverOf({ start, toldOn: day("2025-08-01") }, policy({ stockAgeCapMonths: 12 })).outcome).toBe("in-cover");
});

test("told on a day still to come is sent back for correction", () => {
  const today = day("2025-01-10");
  expect(coverOf(sold("2025-01-11", { today }), policy())).toMatchObject({
    outcome: "cannot-tell-yet",
    reason: "told-in-future",
  });
  expect(coverOf(sold("2025-01-10", { today }), policy()).outcome).toBe("in-cover");
});

test("the policy in force is the latest begun on the day, none before the first", () => {
  const policies = ["2023-01-01", "2025-01-01", "2024-01-01"].map((from) =>
    policy({ version: from, validFrom: day(from) }),
  );
  expect(policyInForce(policies, day("2024-12-31"))?.version).toBe("2024-01-01");
  expect(policyInForce(policies, day("2025-01-01"))?.version).toBe("2025-01-01");
  expect(policyInForce(policies, day("2022-12-31"))).toBeNull();
});

test("the number of days late is counted from the last day of cover", () => {
  const cover = coverOf(sold("2026-03-25"), policy());
  expect(daysBetween(day("2026-03-15"), day("2026-03-25"))).toBe(10);
  expect(cover.because.join(" ")).toMatch(/10 days after the end/);
});
