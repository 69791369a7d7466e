import { type WarrantyPolicy, warrantyPolicySchema } from "@/lib/warranty/policy.schema";
import type { StoryCalendar } from "./scenario/story-calendar";

/** The invented maker's guarantee in two dated versions: from 2025 on a replacement is covered for 90 days at least. */
export function demoPolicies(at: StoryCalendar): WarrantyPolicy[] {
  const [first, second] = [at("2023-10-01"), at("2025-01-01")];
  return [
    { version: first.slice(0, 7), validFrom: first, months: 24, stockAgeCapMonths: 12 },
    {
      version: second.slice(0, 7),
      validFrom: second,
      months: 24,
      graceDays: 3,
      leapDay: "march-1",
      stockAgeCapMonths: 12,
      replacementRule: "minimum",
      minimumDays: 90,
    },
  ].map((terms) => warrantyPolicySchema.parse(terms));
}
