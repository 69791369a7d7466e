import { z } from "zod";
import type { ReadingDrawings } from "./reading-drawings";

const heights = z.array(z.number().nullable());

const drift = z.discriminatedUnion("outcome", [
  z.object({
    outcome: z.literal("drawn"),
    days: z.array(z.number()),
    groups: z.array(
      z.object({
        millivolt: heights,
        millivoltPerDay: z.number().nullable(),
        errorMillivoltPerDay: z.number().nullable(),
      }),
    ),
    restDays: z.number(),
    rests: z.int(),
    limitMillivoltPerDay: z.number().positive(),
    usualMillivoltPerDay: z.number().positive().optional(),
    isShort: z.boolean(),
  }),
  z.object({ outcome: z.literal("cannot"), because: z.string() }),
]);

/** Stored drawings, checked because they were written by some earlier release. */
const readingDrawingsSchema: z.ZodType<ReadingDrawings> = z.object({
  deviations: z
    .object({
      timeS: z.array(z.number()).min(1),
      rowsPerBucket: z.int().min(1),
      groups: z.array(z.object({ meanMillivolt: heights, farthestMillivolt: heights })),
    })
    .nullable(),
  drift,
  places: z.array(
    z.object({
      finding: z.int().min(0),
      fromRow: z.int().min(0),
      toRow: z.int().min(0),
      fromS: z.number(),
      toS: z.number(),
      says: z.string(),
    }),
  ),
  resistanceRefused: z.string().nullable(),
});

/** The stored drawings, or null for a file that was read by a release which kept none. */
export function readReadingDrawings(stored: unknown): ReadingDrawings | null {
  const read = readingDrawingsSchema.safeParse(stored);
  return read.success ? read.data : null;
}
