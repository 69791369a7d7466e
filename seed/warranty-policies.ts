import { calendarDate } from "@/lib/warranty/calendar";
import type { WarrantyPolicy } from "@/lib/warranty/policy.schema";

/** The invented maker's guarantee in two dated versions: from 2025 on a replacement is covered for 90 days at least. */
export const demoPolicies: readonly WarrantyPolicy[] = [
  {
    version: "2023-10",
    validFrom: calendarDate("2023-10-01"),
    months: 24,
    graceDays: 0,
    leapDay: "february-28",
    stockAgeCapMonths: 12,
    replacementRule: "remainder",
    minimumDays: 0,
  },
  {
    version: "2025-01",
    validFrom: calendarDate("2025-01-01"),
    months: 24,
    graceDays: 3,
    leapDay: "march-1",
    stockAgeCapMonths: 12,
    replacementRule: "minimum",
    minimumDays: 90,
  },
];
