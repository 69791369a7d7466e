import { z } from "zod";
import { sourcedTextSchema } from "@/lib/transport/sourced-text";
import { dateText } from "@/lib/warranty/date-text";
import { isTimeZone } from "@/lib/warranty/place-of-sale";

/** How long there is. "at-once" has no date: every hour counts. */
const limitSchema = z.discriminatedUnion("kind", [
  z.object({ kind: z.literal("at-once") }),
  /** Hours of working days where `workingDaysOnly`, else hours of the wall clock. */
  z.object({ kind: z.literal("hours"), hours: z.int().positive(), workingDaysOnly: z.boolean() }),
  z.object({
    kind: z.literal("days"),
    days: z.int().positive(),
    /** Whether weekends and holidays count. The first day never does. */
    counted: z.enum(["every-day", "working-days"]),
    /** A last day on a weekend or holiday moves to the next working day. */
    movesToWorkingDay: z.boolean(),
  }),
]);
export type ClockLimit = z.output<typeof limitSchema>;

const reportingClockSchema = z.object({
  id: z.string().regex(/^[a-z0-9-]+$/),
  place: z.string().min(2),
  name: z.string().min(2),
  /** Countries of the event in which it may run, ISO 3166-1 alpha-2; empty for anywhere. */
  countries: z.array(z.string().regex(/^[A-Z]{2}$/)),
  /** Whose law it is, where it runs for events anywhere. */
  lawOf: z.array(z.string().regex(/^[A-Z]{2}$/)).default([]),
  trigger: sourcedTextSchema,
  limit: limitSchema,
  limitInWords: sourcedTextSchema,
  /** What starts it: knowledge as such, or somebody's finding that a defect is safety-related. */
  startsWith: z.enum(["first-knowledge", "determination"]),
  authority: z.string().min(2),
  /** Zone in which its days are counted: seat of the authority, an engineering default. */
  zone: z.string().refine(isTimeZone, "zone: an IANA name"),
});
export type ReportingClock = z.output<typeof reportingClockSchema>;

/** A dated set of clocks; it belongs to counsel, who signs it off per country. */
export const clockSetSchema = z.object({
  version: z.string().min(1).max(40),
  validFrom: dateText("validFrom"),
  owner: z.string().min(3),
  clocks: z.array(reportingClockSchema).min(1),
});
export type ClockSet = z.output<typeof clockSetSchema>;
