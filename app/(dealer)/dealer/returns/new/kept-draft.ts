import type { DraftView } from "@/lib/data/returns/return-drafts";
import { type Draft, keptReadingSchema } from "./draft";

/** The workshop's copy in the shape the form starts from. */
export function toDraft({ answers, reading, version, savedAt }: DraftView): Draft {
  return {
    answers,
    reading: keptReadingSchema.parse(reading),
    serverVersion: version,
    hasReached: true,
    savedAtMs: savedAt.getTime(),
  };
}
