import { expect, test } from "vitest";
import { calendarDate as day } from "@/lib/warranty/calendar";
import { coverOf } from "@/lib/warranty/cover";
import type { StartFacts } from "@/lib/warranty/cover-facts.schema";
import { warrantyPolicySchema } from "@/lib/warranty/policy.schema";

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

test("days far apart ask for proof where they change the answer, and do not where they do not", () => {
  const start: StartFacts = { deliveryReceiptOn: day("2024-01-15"), statedOn: day("2024-06-15") };
  expect(told("2026-03-01", start)).toMatchObject({ outcome: "cannot-tell-yet", reason: "evidence-conflicts" });
  expect(told("2025-03-01", start)).toMatchObject({ outcome: "in-cover", startsOn: "2024-01-15" });
  expect(told("2026-07-01", start)).toMatchObject({ outcome: "outside-makers-guarantee", startsOn: "2024-01-15" });
});

test("the gap that is still small is stated and included", () => {
  expect(policy.evidenceGapDays).toBe(14);
  const at = (statedOn: string) =>
    told("2026-01-20", { deliveryReceiptOn: day("2024-01-15"), statedOn: day(statedOn) });
  expect(at("2024-01-29")).toMatchObject({ outcome: "in-cover", startsOn: "2024-01-29" });
  expect(at("2024-01-30")).toMatchObject({ outcome: "cannot-tell-yet" });
});

test("an estimate never contradicts a delivery", () => {
  const start: StartFacts = {
    deliveryReceiptOn: day("2024-03-15"),
    distributorSale: { soldOn: day("2022-01-01"), averageShelfDays: 30 },
  };
  expect(told("2026-03-15", start)).toMatchObject({ outcome: "in-cover", startsOn: "2024-03-15" });
});
