import { z } from "zod";
import type { TracePicture } from "./trace-picture";
import type { TraceWindow } from "./trace-window";

const heights = z.array(z.number().nullable());

/** A stored picture, checked because it was written by some earlier release: series of one length, time that never runs back. */
const tracePictureSchema: z.ZodType<TracePicture> = z
  .object({
    timeS: z.array(z.number().nonnegative()).min(1),
    rowsPerBucket: z.int().min(1),
    series: z.array(
      z.object({
        key: z.string(),
        label: z.string(),
        unit: z.enum(["V", "A", "degC", "%"]),
        group: z.int().min(1).nullable(),
        lowest: heights,
        highest: heights,
      }),
    ),
  })
  .refine(
    ({ timeS, series }) =>
      series.every(({ lowest, highest }) => lowest.length === timeS.length && highest.length === timeS.length),
    "a series is longer or shorter than the time",
  );

/** The stored picture, or null where it is none that can be drawn. */
export function readTracePicture(stored: unknown): TracePicture | null {
  const read = tracePictureSchema.safeParse(stored);
  return read.success && read.data.series.length > 0 ? read.data : null;
}

const windowSchema = z.object({ fromRow: z.int().min(0), toRow: z.int().min(1), rowsInLog: z.int().min(1) });

/** A window as the server answered it, or null where the answer is something else. */
export function readTraceWindowAnswer(answer: unknown): TraceWindow | null {
  const picture = tracePictureSchema.safeParse(answer);
  const rows = windowSchema.safeParse(answer);
  return picture.success && rows.success ? { ...picture.data, ...rows.data } : null;
}
