import { z } from "zod";
import { moveNames } from "./move-names";
import { statedFactsSchema } from "./return-facts";

/** What the form of a move sends: which return, which move, on which version, why, and what is stated with it. */
const moveFormSchema = z.object({
  reference: z.string().max(40),
  name: z.enum(moveNames),
  seenVersion: z.coerce.number().int().min(0),
  reason: z.string().max(2000, "This is longer than 2000 characters. Keep to the reason.").default(""),
  stated: statedFactsSchema,
});

export type MoveForm = z.output<typeof moveFormSchema>;

const own = ["reference", "name", "seenVersion", "reason"];

/** Reads a submitted form: an untouched field is no statement. */
export function readMoveForm(entries: Iterable<readonly [string, unknown]>) {
  const filled = [...entries].filter(([, value]) => typeof value === "string" && value.trim() !== "");
  const stated = filled.filter(([key]) => !own.includes(key) && !key.startsWith("$"));
  return moveFormSchema.safeParse({
    ...Object.fromEntries(filled.filter(([key]) => own.includes(key))),
    stated: Object.fromEntries(stated),
  });
}
