import { z } from "zod";
import { heldQuestionsSchema } from "@/lib/readings/column-choice.schema";

const sentences = z.array(z.string()).readonly();

/** What a dealer sees of a readings file; checked because it came over a wire or out of a browser's storage. */
export const readingSummarySchema = z.object({
  id: z.string(),
  fileName: z.string(),
  sizeBytes: z.number(),
  rows: z.number(),
  groups: z.number(),
  rejectedRows: z.number(),
  rejected: z.array(z.object({ line: z.number(), reason: z.string() })).readonly(),
  remarks: sentences,
  findings: z
    .array(
      z.object({
        fault: z.string(),
        groups: z.array(z.number()).readonly(),
        safetyClass: z.string(),
        evidenceFor: sentences,
      }),
    )
    .readonly(),
  suggestion: z.object({ remedy: z.string(), reasons: sentences, plainReasons: sentences.default([]) }).nullable(),
});

/** One line of the answer to an upload: how far it is, or what came of it. */
export const uploadLineSchema = z.union([
  z.object({
    progress: z.object({ stage: z.enum(["waiting", "reading", "judging"]), rows: z.number(), share: z.number() }),
  }),
  z.object({ ok: z.literal(true), file: readingSummarySchema }),
  z.object({ ok: z.literal(false), sentence: z.string(), ask: heldQuestionsSchema }),
  z.object({ ok: z.literal(false), sentence: z.string() }),
]);
