import type { z } from "zod";
import type { LodgeProblem } from "@/lib/data/returns/lodge-return";
import { type LodgeReturn, lodgeReturnSchema } from "@/lib/returns/lodge-return.schema";

const fields = lodgeReturnSchema.keyof().options;

/** What the schema found, by field. What belongs to no field is shown with the key of the form. */
export function problemsIn(error: z.ZodError<LodgeReturn>): LodgeProblem[] {
  return error.issues.map(({ path, message }) => ({
    field: fields.find((field) => field === path[0]) ?? "clientKey",
    sentence: message,
  }));
}
