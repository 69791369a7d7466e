import { expect, test } from "vitest";
import { datesToTell } from "@/lib/letters/dates-to-tell";
import { calendarDate as day } from "@/lib/warranty/calendar";

const cover = { outcome: "in-cover", startsOn: day("2025-06-30"), endsOn: day("2027-06-30") };

test("a customer is told the days of the guarantee where the day of delivery is known", () => {
  for (const evidence of ["delivery-receipt", "registration-before-complaint", "statement-at-complaint"])
    expect(datesToTell({ ...cover, evidence })).toEqual({ startsOn: "2025-06-30", endsOn: "2027-06-30" });
});

test("days counted from the dispatch or from a distributor's sale hold between maker and dealer and are told to no customer", () => {
  for (const evidence of ["dispatch-plus-shelf-limit", "distributor-sale", null])
    expect(datesToTell({ ...cover, evidence })).toEqual({ startsOn: null, endsOn: null });
});
