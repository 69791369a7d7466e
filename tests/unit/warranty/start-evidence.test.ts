import { expect, test } from "vitest";
import { calendarDate as day } from "@/lib/warranty/calendar";
import { coverOf } from "@/lib/warranty/cover";
import type { StartFacts } from "@/lib/warranty/cover-facts.schema";
import { warrantyPolicySchema } from "@/lib/warranty/policy.schema";
import { provenBy, provenDays } from "@/lib/warranty/proven-days";

const policy = warrantyPolicySchema.parse({ version: "1", validFrom: "2020-01-01", months: 24, stockAgeCapMonths: 12 });
const told = (toldOn: string, start: StartFacts) => coverOf({ start, toldOn: day(toldOn) }, policy);

test("the best evidence known is used and named", () => {
  const all: StartFacts = {
    deliveryReceiptOn: day("2024-03-15"),
    registration: { deliveredOn: day("2024-03-15"), registeredOn: day("2024-03-20") },
    statedOn: day("2024-03-15"),
    distributorSale: { soldOn: day("2024-01-10"), averageShelfDays: 60 },
    dispatchedOn: day("2023-12-01"),
  };
  const { deliveryReceiptOn: _receipt, ...withoutReceipt } = all;
  const { registration: _registration, ...withoutRegistration } = withoutReceipt;
  const { statedOn: _stated, ...estimates } = withoutRegistration;
  const { distributorSale: _sale, ...dispatchOnly } = estimates;
  expect(told("2025-06-01", all).evidence).toBe("delivery-receipt");
  expect(told("2025-06-01", withoutReceipt).evidence).toBe("registration-before-complaint");
  expect(told("2025-06-01", withoutRegistration).evidence).toBe("statement-at-complaint");
  expect(told("2025-06-01", estimates)).toMatchObject({ evidence: "distributor-sale", startsOn: "2024-03-10" });
  expect(told("2025-06-01", dispatchOnly)).toMatchObject({
    evidence: "dispatch-plus-shelf-limit",
    startsOn: "2024-12-01",
  });
});

test("a registration made on the day of the complaint is worth a statement", () => {
  const registeredOn = (on: string) => ({ registration: { deliveredOn: day("2024-03-15"), registeredOn: day(on) } });
  expect(told("2026-03-01", registeredOn("2026-02-28")).evidence).toBe("registration-before-complaint");
  expect(told("2026-03-01", registeredOn("2026-03-01")).evidence).toBe("statement-at-complaint");
});

test("days of delivery that differ little are read in the customer's favour", () => {
  const cover = told("2026-03-20", { deliveryReceiptOn: day("2024-03-15"), statedOn: day("2024-03-22") });
  expect(cover).toMatchObject({ outcome: "in-cover", startsOn: "2024-03-22", evidence: "statement-at-complaint" });
  expect(cover.because.join(" ")).toMatch(/customer's favour/);
});

test("a day after the complaint is no delivery, however favourable", () => {
  const cover = told("2024-03-18", { deliveryReceiptOn: day("2024-03-15"), statedOn: day("2024-03-22") });
  expect(cover).toMatchObject({ outcome: "in-cover", startsOn: "2024-03-15" });
});

test("without any proof days far apart ask for one where they change the answer, and do not where they do not", () => {
  const start: StartFacts = {
    registration: { deliveredOn: day("2024-01-15"), registeredOn: day("2024-01-20") },
    statedOn: day("2024-06-15"),
  };
  const asked = told("2026-03-01", start);
  expect(asked).toMatchObject({ outcome: "cannot-tell-yet", reason: "evidence-conflicts" });
  expect(asked.because.join(" ")).toContain("ask for the proof of purchase");
  expect(told("2025-03-01", start)).toMatchObject({ outcome: "in-cover", startsOn: "2024-01-15" });
  expect(told("2026-07-01", start)).toMatchObject({ outcome: "outside-makers-guarantee", startsOn: "2024-01-15" });
});

// Common practice, no source: a proof of delivery is the best evidence of the start, what is registered or said at the counter is less.
test("beyond the gap a proof that was read outranks what was registered or stated, whichever way they differ", () => {
  const guess = { statedOn: day("2023-06-15") };
  const registered = { registration: { deliveredOn: day("2023-06-15"), registeredOn: day("2023-06-20") } };
  for (const said of [guess, registered, { ...guess, ...registered }]) {
    for (const proof of [{ provenOn: [day("2024-03-15")] }, { deliveryReceiptOn: day("2024-03-15") }]) {
      const earlier = told("2026-03-01", { ...proof, ...said });
      expect(earlier).toMatchObject({ outcome: "in-cover", startsOn: "2024-03-15", evidence: "delivery-receipt" });
      expect(earlier.because.join(" ")).toContain("A proof counts before it");
    }
  }
  const late: StartFacts = { provenOn: [day("2023-03-15")], statedOn: day("2024-06-15") };
  expect(told("2026-03-01", late)).toMatchObject({ outcome: "outside-makers-guarantee", startsOn: "2023-03-15" });
});

test("a day stated near a proof is still read in the customer's favour, where another one is outranked", () => {
  const start: StartFacts = {
    provenOn: [day("2024-03-15")],
    registration: { deliveredOn: day("2023-06-15"), registeredOn: day("2023-06-20") },
    statedOn: day("2024-03-20"),
  };
  expect(told("2026-03-18", start)).toMatchObject({ outcome: "in-cover", startsOn: "2024-03-20" });
});

test("only proofs contradict each other, and the one a named person chose counts", () => {
  const start: StartFacts = { deliveryReceiptOn: day("2023-03-15"), provenOn: [day("2024-06-15")] };
  const atOdds = told("2026-03-01", { ...start, statedOn: day("2024-06-10") });
  expect(atOdds).toMatchObject({ outcome: "cannot-tell-yet", reason: "evidence-conflicts" });
  expect(atOdds.because.join(" ")).toContain("chooses the one that counts");
  const chosen = told("2026-03-01", { ...start, setAsideOn: [day("2023-03-15")] });
  expect(chosen).toMatchObject({ outcome: "in-cover", startsOn: "2024-06-15" });
  expect(chosen.because.join(" ")).toContain("15 March 2023 does not count: another one was chosen by name");
  expect(told("2026-03-01", { ...start, setAsideOn: [day("2024-06-15")] })).toMatchObject({
    outcome: "outside-makers-guarantee",
    startsOn: "2023-03-15",
  });
});

test("what was set aside stands again once it is read or chosen again", () => {
  const at = (hour: number) => new Date(Date.UTC(2026, 9, 5, hour));
  const [first, second] = [day("2023-03-15"), day("2024-06-15")];
  const chosen = { soldOn: second, readAt: at(2), against: [first] };
  expect(provenBy([{ soldOn: first, readAt: at(1), against: [] }, chosen])).toEqual({
    provenOn: [first, second],
    setAsideOn: [first],
  });
  const readAgain = { soldOn: first, readAt: at(3), against: [] };
  expect(provenBy([readAgain, chosen])).toEqual({ provenOn: [first, second] });
  expect(provenDays({ deliveryReceiptOn: first, provenOn: [second, first], setAsideOn: [second] })).toEqual([first]);
});

test("the gap that is still small is stated and included", () => {
  expect(policy.evidenceGapDays).toBe(14);
  const at = (statedOn: string) =>
    told("2026-01-20", { deliveryReceiptOn: day("2024-01-15"), statedOn: day(statedOn) });
  expect(at("2024-01-29")).toMatchObject({ outcome: "in-cover", startsOn: "2024-01-29" });
  expect(at("2024-01-30")).toMatchObject({ outcome: "outside-makers-guarantee", startsOn: "2024-01-15" });
});

test("an estimate never contradicts a delivery", () => {
  const start: StartFacts = {
    deliveryReceiptOn: day("2024-03-15"),
    distributorSale: { soldOn: day("2022-01-01"), averageShelfDays: 30 },
  };
  expect(told("2026-03-15", start)).toMatchObject({ outcome: "in-cover", startsOn: "2024-03-15" });
});
