import { expect, test } from "vitest";
import { readSettingsProposal } from "@/lib/returns/settings-proposal.schema";
import { settingsInWords } from "@/lib/returns/settings-words";

const typed = {
  version: "returns-2027-01",
  validFrom: "2027-01-01",
  why: "A branch in Japan pays in its own money.",
  remindersBeforeLapse: "2",
  remindEveryDays: "3",
  objectionDays: "30",
  solvedReopenDays: "14",
  closeAfterDays: "14",
  draftKeptDays: "14",
  contactKeptDays: "730",
  expiryReminderDays: "3",
  callAgainMinutes: "30",
  refundDays: "10",
  dayLimitMinor: "900",
};
const limit = (refundLimitMinor: string, refundLimitCurrency: string) => {
  const lineLimitMinor = "100";
  const reading = readSettingsProposal({ ...typed, refundLimitMinor, refundLimitCurrency, lineLimitMinor });
  if (reading.kind === "problems") return reading.problems.map(({ field }) => field);
  const { values } = reading.proposal;
  return [values.refundLimitMinor, settingsInWords(values).at(-1)?.value];
};

test("the limit of a refund is read and said in the smallest unit of its currency", () => {
  expect(limit("500,00", "eur")).toEqual([50_000, "500.00 EUR"]);
  // ISO 4217, minor unit of JPY 0 (from memory: verify).
  expect(limit("60000", "JPY")).toEqual([60_000, "60,000 JPY"]);
  expect(limit("600.50", "JPY")).toEqual(["refundLimitMinor"]);
  expect(limit("600.50", "EUE")).toEqual(["refundLimitCurrency"]);
});

test("the days of a refund are set by the house, and never above what the shortest law known here gives", () => {
  const read = (refundDays: string) =>
    readSettingsProposal({
      ...typed,
      refundDays,
      refundLimitMinor: "500",
      lineLimitMinor: "100",
      refundLimitCurrency: "EUR",
    });
  expect(read("14")).toMatchObject({
    kind: "proposal",
    proposal: { values: { refundDays: 14, dayLimitMinor: 90_000 } },
  });
  expect(read("15")).toMatchObject({ kind: "problems", problems: [{ field: "refundDays" }] });
  expect(read("0")).toMatchObject({ kind: "problems", problems: [{ field: "refundDays" }] });
});
