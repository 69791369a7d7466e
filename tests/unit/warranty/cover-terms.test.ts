import fc from "fast-check";
import { expect, test } from "vitest";
import { stopTheClock } from "@/lib/warranty/absences";
import { calendarDate as day, daysBetween, plusDays } from "@/lib/warranty/calendar";
import { coverOf, LEGAL_RIGHTS } from "@/lib/warranty/cover";
import type { CoverFacts } from "@/lib/warranty/cover-facts.schema";
import { lastDay } from "@/lib/warranty/last-day";
import { type WarrantyPolicy, warrantyPolicySchema } from "@/lib/warranty/policy.schema";
import { coverByPolicyOfSale } from "@/lib/warranty/policy-of-sale";
import { policyInWords } from "@/lib/warranty/policy-words";
import { whatWouldChange } from "@/lib/warranty/would-change";
import { anyDate } from "./any-date";

const policy = (over: Record<string, unknown> = {}): WarrantyPolicy =>
  warrantyPolicySchema.parse({ version: "t", validFrom: "2020-01-01", months: 24, ...over });
const only = (terms: WarrantyPolicy) => ({ policy: terms, policies: [terms] });
const sold = (toldOn: string, over: Partial<CoverFacts> = {}): CoverFacts => ({
  start: { deliveryReceiptOn: day("2024-03-14") },
  toldOn: day(toldOn),
  ...over,
});

// 14 March 2026 is a Saturday (calendar arithmetic). Regulation (EEC, Euratom) No 1182/71, Art. 3(4): a period whose last
// day is a Saturday, Sunday or public holiday ends with the following working day.
test("a last day on a weekend lasts until Monday where the policy says so, and the end itself stays", () => {
  const weekend = policy({ weekendEnd: "next-working-day" });
  expect(coverOf(sold("2026-03-16"), weekend)).toMatchObject({
    outcome: "in-cover-by-grace",
    endsOn: "2026-03-14",
    graceEndsOn: "2026-03-16",
  });
  expect(coverOf(sold("2026-03-17"), weekend).outcome).toBe("outside-makers-guarantee");
  expect(coverOf(sold("2026-03-16"), policy()).outcome).toBe("outside-makers-guarantee");
});

test("the weekend is looked at after the days of grace", () => {
  const terms = { graceDays: 1, weekendEnd: "next-working-day" } as const;
  expect(lastDay(day("2026-03-13"), terms)).toBe("2026-03-16");
  expect(lastDay(day("2026-03-12"), terms)).toBe("2026-03-13");
});

test("days without the pack are added where the policy stops the clock, once where stays overlap", () => {
  const absences = [
    { handedOverOn: day("2025-01-01"), backOn: day("2025-01-11") },
    { handedOverOn: day("2025-01-05"), backOn: day("2025-01-15") },
  ];
  const stops = policy({ clockStop: "while-with-us" });
  expect(coverOf(sold("2026-03-20", { absences }), stops)).toMatchObject({ outcome: "in-cover", endsOn: "2026-03-28" });
  expect(coverOf(sold("2026-03-20", { absences }), policy())).toMatchObject({ endsOn: "2026-03-14" });
});

test("a stay that begins after the end revives nothing, and one that lasts counts up to the complaint", () => {
  const period = { startsOn: day("2024-01-01"), endsOn: day("2024-12-31") };
  const from = (handedOverOn: string) => [{ handedOverOn: day(handedOverOn), backOn: null }];
  expect(stopTheClock(period, from("2025-01-01"), day("2025-06-01"))).toEqual({ endsOn: "2024-12-31", days: 0 });
  expect(stopTheClock(period, from("2024-12-30"), day("2025-01-04"))).toEqual({ endsOn: "2025-01-05", days: 5 });
});

test("the clock never stands still for longer than the stays together, nor moves the end back", () => {
  const anyStay = fc
    .tuple(anyDate, fc.nat(60))
    .map(([handedOverOn, days]) => ({ handedOverOn, backOn: plusDays(handedOverOn, days) }));
  fc.assert(
    fc.property(anyDate, fc.nat(900), fc.array(anyStay, { maxLength: 5 }), anyDate, (startsOn, term, stays, toldOn) => {
      const endsOn = plusDays(startsOn, term);
      const clock = stopTheClock({ startsOn, endsOn }, stays, toldOn);
      const together = stays.reduce((sum, { handedOverOn, backOn }) => sum + daysBetween(handedOverOn, backOn), 0);
      expect(daysBetween(endsOn, clock.endsOn)).toBe(clock.days);
      expect(clock.days).toBeGreaterThanOrEqual(0);
      expect(clock.days).toBeLessThanOrEqual(together);
      expect(stopTheClock({ startsOn, endsOn }, stays.toReversed(), toldOn)).toEqual(clock);
    }),
  );
});

test("a minimum in months after a replacement reaches 20 August from 20 February (computed, calendar arithmetic)", () => {
  const cover = coverOf(
    {
      start: { deliveryReceiptOn: day("2024-03-15") },
      toldOn: day("2026-03-01"),
      replacements: [{ deliveredOn: day("2026-02-20") }],
    },
    policy({ replacementRule: "minimum", minimumMonths: 6 }),
  );
  expect(cover).toMatchObject({ endsOn: "2026-08-20" });
});

test("an open field action covers whatever the dates say, and the dates are still given", () => {
  const fieldActions = [{ title: "Check of the main lead" }];
  const cover = coverOf(sold("2027-01-01", { fieldActions }), policy());
  expect(cover).toMatchObject({ outcome: "covered-by-field-action", endsOn: "2026-03-14" });
  expect(cover.because.join(" ")).toMatch(/Check of the main lead.*outside the maker's guarantee/);
  expect(cover.because.at(-1)).toBe(LEGAL_RIGHTS);
  expect(coverOf({ start: {}, toldOn: day("2027-01-01"), fieldActions }, policy())).toMatchObject({
    outcome: "covered-by-field-action",
    endsOn: null,
  });
});

test("after one repair or replacement in the chain a refund may be due, and after none nothing is said", () => {
  const earlier = (remedy: string | null) => [{ toldOn: day("2025-01-01"), symptom: "short-range", remedy }];
  const ask = (remedy: string | null) =>
    coverOf(sold("2025-06-01", { symptom: "short-range", earlierReturns: earlier(remedy) }), policy());
  expect(ask("repair").repeat).toMatchObject({ attempts: 1, isSameSymptom: true });
  expect(ask("repair").because.join(" ")).toMatch(/second attempt: a refund may be due; ask\. The same symptom/);
  expect(ask("remote-fix").repeat).toMatchObject({ attempts: 1 });
  expect(ask("return-as-is").repeat).toBeNull();
  expect(ask(null).repeat).toBeNull();
});

test("the order of the evidence is the policy's", () => {
  const start = { deliveryReceiptOn: day("2024-03-15"), statedOn: day("2024-09-15") };
  const facts = { start, toldOn: day("2025-01-01") };
  expect(coverOf(facts, policy()).evidence).toBe("delivery-receipt");
  const evidenceOrder = [
    "statement-at-complaint",
    "delivery-receipt",
    "registration-before-complaint",
    "distributor-sale",
    "dispatch-plus-shelf-limit",
  ];
  expect(coverOf(facts, policy({ evidenceOrder })).evidence).toBe("statement-at-complaint");
  expect(() => policy({ evidenceOrder: evidenceOrder.slice(1) })).toThrow(/every kind of evidence once/);
});

test("a replacement before the sale is a contradiction to be cleared", () => {
  const replacements = [{ deliveredOn: day("2024-01-01") }];
  expect(coverOf(sold("2025-01-01", { replacements }), policy())).toMatchObject({ reason: "replaced-before-start" });
});

test("what is said to change the answer does change it", () => {
  fc.assert(
    fc.property(anyDate, fc.integer({ min: 0, max: 1500 }), fc.nat(20), (soldOn, days, graceDays) => {
      const terms = policy({ graceDays });
      const facts = { start: { statedOn: soldOn }, toldOn: plusDays(soldOn, days) };
      const cover = coverOf(facts, terms);
      const sentences = whatWouldChange(facts, only(terms), cover);
      expect(sentences.length).toBeGreaterThan(0);
      if (cover.outcome !== "outside-makers-guarantee") {
        if (cover.outcome === "cannot-tell-yet" || cover.graceEndsOn === null) throw new Error("a sale is known");
        const later = coverOf({ ...facts, toldOn: plusDays(cover.graceEndsOn, 1) }, terms);
        expect(later.outcome).toBe("outside-makers-guarantee");
      }
    }),
  );
});

// The day named is taken at its word: put on a proof of purchase, beside all that is known, it gives what was said.
test("whatever was replaced and stated, a day named as changing the answer gives the answer named", () => {
  const monthNames = "January February March April May June July August September October November December".split(" ");
  const dayIn = (text: string) => {
    const [date = "", month = "", year = ""] = text.split(" ");
    const number = String(monthNames.indexOf(month) + 1).padStart(2, "0");
    return day(`${year}-${number}-${date.padStart(2, "0")}`);
  };
  const rule = fc.constantFrom("remainder", "minimum", "restart");
  const delays = fc.array(fc.integer({ min: 0, max: 1200 }), { maxLength: 3 });
  let named = 0;
  fc.assert(
    fc.property(
      anyDate,
      fc.integer({ min: 0, max: 1500 }),
      rule,
      delays,
      fc.boolean(),
      (soldOn, days, rules, after, stops) => {
        const toldOn = plusDays(soldOn, days);
        const replacements = after.filter((one) => one <= days).map((one) => ({ deliveredOn: plusDays(soldOn, one) }));
        const terms = policy({
          replacementRule: rules,
          ...(rules === "minimum" ? { minimumDays: 90 } : {}),
          ...(stops ? { clockStop: "while-with-us" } : {}),
        });
        const absences = replacements.map(({ deliveredOn }) => ({
          handedOverOn: plusDays(deliveredOn, -12),
          backOn: deliveredOn,
        }));
        const facts = { start: { statedOn: soldOn }, toldOn, replacements, absences };
        for (const sentence of whatWouldChange(facts, only(terms), coverOf(facts, terms))) {
          // Cleared up, what was stated before is not on record beside the proof any more.
          const recorded = sentence.includes("cleared up") ? {} : facts.start;
          const on = (receipt: ReturnType<typeof day>) =>
            coverOf({ ...facts, start: { ...recorded, deliveryReceiptOn: receipt } }, terms).outcome;
          const before = /delivery before (\d+ \w+ \d{4})/.exec(sentence)?.[1];
          const onOrAfter = /delivery on or after (\d+ \w+ \d{4})/.exec(sentence)?.[1];
          if (before !== undefined) expect(on(plusDays(dayIn(before), -1)), sentence).toBe("outside-makers-guarantee");
          if (onOrAfter !== undefined) expect(on(dayIn(onOrAfter)), sentence).toMatch(/^in-cover/);
          named += Number(before !== undefined || onOrAfter !== undefined);
        }
      },
    ),
    { numRuns: 300 },
  );
  expect(named).toBeGreaterThan(30);
});

test("a later proof named by the answer brings it into cover, and the day before does not", () => {
  const facts = sold("2026-03-25");
  const cover = coverOf(facts, policy());
  expect(whatWouldChange(facts, only(policy()), cover)).toEqual([
    "A proof of purchase that shows delivery on or after 25 March 2024 would bring it into cover.",
  ]);
  const on = (receipt: string) => coverOf({ ...facts, start: { deliveryReceiptOn: day(receipt) } }, policy()).outcome;
  expect([on("2024-03-24"), on("2024-03-25")]).toEqual(["outside-makers-guarantee", "in-cover"]);
});

test("every policy can be read as sentences without a code in them", () => {
  for (const over of [
    {},
    { replacementRule: "minimum", minimumDays: 90, minimumMonths: 6, weekendEnd: "next-working-day", graceDays: 3 },
    { replacementRule: "restart", clockStop: "while-with-us", leapDay: "march-1", stockAgeCapMonths: 12 },
  ]) {
    for (const sentence of policyInWords(policy(over))) {
      expect(sentence).toMatch(/^[A-Z].*\.$/);
      expect(sentence).not.toMatch(/[a-z]-[0-9]|null|undefined/);
    }
  }
});

const longer = [policy(), policy({ version: "u", validFrom: "2025-01-01", months: 36 })];
const stated = (soldOn: string, toldOn: string): CoverFacts => ({
  start: { statedOn: day(soldOn) },
  toldOn: day(toldOn),
});

test("a day named as changing the answer is taken under the promise of that day", () => {
  const facts = stated("2024-12-20", "2027-01-15");
  const { cover, policy: ofSale } = coverByPolicyOfSale(facts, longer, day("2024-11-01"));
  expect([ofSale.version, cover.outcome]).toEqual(["t", "outside-makers-guarantee"]);
  expect(whatWouldChange(facts, { policy: ofSale, policies: longer }, cover)).toEqual([
    "A proof of purchase that shows delivery on or after 1 January 2025 would bring it into cover.",
  ]);
});

test("where a shorter promise began meanwhile, the days named end before it", () => {
  const policies = [policy({ months: 36 }), policy({ version: "u", validFrom: "2025-01-01", months: 12 })];
  const facts = stated("2023-01-05", "2026-06-01");
  const { cover, policy: ofSale } = coverByPolicyOfSale(facts, policies, day("2022-12-01"));
  expect(whatWouldChange(facts, { policy: ofSale, policies }, cover)).toEqual([
    "A proof of purchase that shows delivery on or after 1 June 2023, and before 1 January 2025, when a shorter guarantee began, would bring it into cover.",
  ]);
});

test("of two days that differ little the one that counts brings its own promise", () => {
  const start = { deliveryReceiptOn: day("2024-12-28"), statedOn: day("2025-01-03") };
  const facts = { start, toldOn: day("2027-06-01") };
  const near = longer.map((terms) => ({ ...terms, evidenceGapDays: 14 }));
  expect(coverByPolicyOfSale(facts, near, day("2024-11-01"))).toMatchObject({
    policy: { version: "u" },
    cover: { outcome: "in-cover", startsOn: "2025-01-03", endsOn: "2028-01-03" },
  });
});

// Regulation (EEC, Euratom) No 1182/71, Art. 3(2)(c): a month without such a day ends with its last day; 1 March by the policy's word.
test("the least time of a replacement that came on 29 February ends by the policy's rule for that day", () => {
  const terms = policy({ replacementRule: "minimum", minimumMonths: 12, leapDay: "march-1" });
  const facts = {
    start: { deliveryReceiptOn: day("2022-01-10") },
    replacements: [{ deliveredOn: day("2024-02-29") }],
    toldOn: day("2025-03-01"),
  };
  expect(coverOf(facts, terms)).toMatchObject({ outcome: "in-cover", endsOn: "2025-03-01" });
});

test("a repair that was decided and never made is no attempt", () => {
  const before = { toldOn: day("2025-01-01"), symptom: "no-power", remedy: "repair" };
  const facts = (isCarriedOut: boolean) => sold("2025-06-01", { earlierReturns: [{ ...before, isCarriedOut }] });
  expect(coverOf(facts(false), policy()).repeat).toBeNull();
  expect(coverOf(facts(true), policy()).repeat).toMatchObject({ attempts: 1 });
});

test("two proofs of purchase far apart are a contradiction to be cleared, near ones the customer's favour", () => {
  const start = (provenOn: string) => ({ deliveryReceiptOn: day("2024-01-10"), provenOn: [day(provenOn)] });
  const terms = policy({ evidenceGapDays: 14 });
  expect(coverOf({ start: start("2024-01-20"), toldOn: day("2026-01-15") }, terms)).toMatchObject({
    outcome: "in-cover",
    startsOn: "2024-01-20",
  });
  expect(coverOf({ start: start("2024-03-01"), toldOn: day("2026-02-15") }, terms)).toMatchObject({
    outcome: "cannot-tell-yet",
    reason: "evidence-conflicts",
  });
});
