import { z } from "zod";
import type { CalendarDate } from "./calendar";
import { dateText } from "./date-text";

/** How the start may be known, in the order the trade usually trusts it, best first [common practice, no source]. */
export const startEvidences = [
  "delivery-receipt",
  "registration-before-complaint",
  "statement-at-complaint",
  "distributor-sale",
  "dispatch-plus-shelf-limit",
] as const;
export type StartEvidence = (typeof startEvidences)[number];

export const leapDayRules = ["february-28", "march-1"] as const;
export type LeapDayRule = (typeof leapDayRules)[number];

/** What a replacement pack is covered for: the rest of the first pack's time, at least some days, or a new full term. */
export const replacementRules = ["remainder", "minimum", "restart"] as const;

/** What happens to a last day, grace included, that falls on a Saturday or a Sunday. Public holidays of the country of sale are asked for with it (`holiday-rules.ts`). */
const weekendEnds = ["as-it-falls", "next-working-day"] as const;

/** Whether the days on which the customer was without the pack are added to the time. */
const clockStops = ["never", "while-with-us"] as const;

/** Deliveries told this many days apart or less count as one. Engineering default, no authority. */
const EVIDENCE_GAP_DAYS = 14;

/** The numbers of a policy, bounded so that no date leaves the calendar; the bounds are engineering defaults. */
export const policyTerms = {
  months: z.int("months: a whole number of months.").min(1, "months: at least 1.").max(600, "months: at most 600."),
  graceDays: z
    .int("graceDays: a whole number of days.")
    .min(0, "graceDays: not below 0.")
    .max(366, "graceDays: at most 366."),
  leapDay: z.enum(leapDayRules, "leapDay: february-28 or march-1."),
  stockAgeCapMonths: z
    .int("stockAgeCapMonths: a whole number of months.")
    .min(0, "stockAgeCapMonths: not below 0.")
    .max(120, "stockAgeCapMonths: at most 120."),
  replacementRule: z.enum(replacementRules, "replacementRule: remainder, minimum or restart."),
  minimumDays: z
    .int("minimumDays: a whole number of days.")
    .min(0, "minimumDays: not below 0.")
    .max(3660, "minimumDays: at most 3660."),
  minimumMonths: z
    .int("minimumMonths: a whole number of months.")
    .min(0, "minimumMonths: not below 0.")
    .max(120, "minimumMonths: at most 120."),
  weekendEnd: z.enum(weekendEnds, "weekendEnd: as-it-falls or next-working-day."),
  clockStop: z.enum(clockStops, "clockStop: never or while-with-us."),
  evidenceGapDays: z
    .int("evidenceGapDays: a whole number of days.")
    .min(0, "evidenceGapDays: not below 0.")
    .max(366, "evidenceGapDays: at most 366."),
  evidenceOrder: z
    .array(z.enum(startEvidences), "evidenceOrder: a list.")
    .refine(
      (order) => order.length === startEvidences.length && new Set(order).size === order.length,
      "evidenceOrder: every kind of evidence once, best first.",
    ),
};

/**
 * One dated version of the maker's guarantee. Every period is the maker's choice, held as data; a change makes a new
 * version, because a pack keeps the promise that held on the day it was sold.
 */
export const warrantyPolicySchema = z.object({
  version: z.string().min(1).max(40),
  validFrom: dateText("validFrom"),
  months: policyTerms.months,
  graceDays: policyTerms.graceDays.default(0),
  leapDay: policyTerms.leapDay.default("february-28"),
  /** Settlement between maker and dealer counts from dispatch plus this many months at the latest; null for no limit. */
  stockAgeCapMonths: policyTerms.stockAgeCapMonths.nullable().default(null),
  replacementRule: policyTerms.replacementRule.default("remainder"),
  minimumDays: policyTerms.minimumDays.default(0),
  /** Beside the days, for a promise in months; the later end counts. */
  minimumMonths: policyTerms.minimumMonths.default(0),
  weekendEnd: policyTerms.weekendEnd.default("as-it-falls"),
  clockStop: policyTerms.clockStop.default("never"),
  evidenceGapDays: policyTerms.evidenceGapDays.default(EVIDENCE_GAP_DAYS),
  evidenceOrder: policyTerms.evidenceOrder.default([...startEvidences]),
});

export type WarrantyPolicy = z.output<typeof warrantyPolicySchema>;

/** The version in force on a day, usually that of the sale; null before the first. */
export function policyInForce(policies: readonly WarrantyPolicy[], on: CalendarDate): WarrantyPolicy | null {
  const begun = policies.filter((policy) => policy.validFrom <= on);
  return begun.reduce<WarrantyPolicy | null>(
    (latest, policy) => (latest === null || policy.validFrom > latest.validFrom ? policy : latest),
    null,
  );
}
