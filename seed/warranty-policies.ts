import { type WarrantyPolicy, warrantyPolicySchema } from "@/lib/warranty/policy.schema";

/** The invented maker's guarantee in two dated versions: from 2025 on a replacement is covered for 90 days at least. */
export const demoPolicies: readonly WarrantyPolicy[] = [
  { version: "2023-10", validFrom: "2023-10-01", months: 24, stockAgeCapMonths: 12 },
  {
    version: "2025-01",
    validFrom: "2025-01-01",
    months: 24,
    graceDays: 3,
    leapDay: "march-1",
    stockAgeCapMonths: 12,
    replacementRule: "minimum",
    minimumDays: 90,
  },
].map((terms) => warrantyPolicySchema.parse(terms));
