import { z } from "zod";
import { noFaultOutcomes, noFaultSteps } from "./no-fault-protocol";

/** Why the protocol is started, or left out. */
export const noFaultReasonSchema = z.object({
  reference: z.string().max(40),
  why: z.string().trim().min(10, "Write why, in a sentence.").max(1000, "At most 1000 characters."),
});

/** One step of the protocol as its form sends it. */
export const noFaultEntrySchema = z.object({
  reference: z.string().max(40),
  step: z.enum(noFaultSteps),
  outcome: z.enum(noFaultOutcomes, "Choose what came of it."),
  note: z.string().trim().min(3, "Write what was done and seen.").max(1000, "At most 1000 characters."),
});
