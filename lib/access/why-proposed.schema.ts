import { z } from "zod";

/** Why something is proposed: all that the second person has to judge it by. */
export const whyProposed = z
  .string()
  .trim()
  .min(10, "Write why, in a sentence: the approver has only this.")
  .max(1000, "At most 1000 characters.");
