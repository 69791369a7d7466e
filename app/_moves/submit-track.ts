import { revalidatePath } from "next/cache";
import { z } from "zod";
import { type MoveState, refused } from "@/app/_components/move-state";
import type { Actor } from "@/lib/access/actor";
import { readTrackChangesSince } from "@/lib/data/returns/changes-since";
import { flagSafety, recordRemedy, scanPack, setLegalHold, type TrackAnswer } from "@/lib/data/returns/move-track";
import { custodyPlaces } from "@/lib/returns/custody-track";
import { holdStates } from "@/lib/returns/legal-hold";
import { remedyStates } from "@/lib/returns/remedy-track";
import { safetyStates } from "@/lib/returns/safety-track";
import { storableText } from "@/lib/returns/storable-text";
import { trackRefusedAt } from "@/lib/returns/track-step";

const common = {
  reference: z.string().max(40),
  seenVersion: z.coerce.number().int().min(0),
  reason: z.string("Write the reason: the next reader has only this.").max(1000, "Keep to the reason."),
};
const trackFormSchema = z.discriminatedUnion("track", [
  z.object({ ...common, track: z.literal("safety"), to: z.enum(safetyStates, "Choose what it is to be.") }),
  z.object({
    ...common,
    track: z.literal("custody"),
    to: z.enum(custodyPlaces, "Choose where it is."),
    scanned: z.string().trim().max(300, "This is no code of a pack.").default(""),
    cannotBeRead: z.stringbool().default(false),
    agreement: storableText({
      least: 0,
      most: 500,
      tooShort: "Write who agreed, when and how.",
      tooLong: "This is longer than 500 characters.",
    }).default(""),
  }),
  z.object({ ...common, track: z.literal("remedy"), to: z.enum(remedyStates, "Choose what is to be recorded.") }),
  z.object({ ...common, track: z.literal("hold"), to: z.enum(holdStates, "Choose what it is to be.") }),
]);

type Track = z.output<typeof trackFormSchema>["track"];

/** Moves a track of a return, one of those its page offers: the safety flag of its pack, its place, a legal hold, the remedy. */
export async function submitTrack(
  actor: Actor,
  form: FormData,
  tracks: readonly Track[] = ["safety", "custody", "remedy", "hold"],
): Promise<MoveState> {
  const typed = Object.fromEntries(
    [...form].flatMap(([key, value]) => (typeof value === "string" ? [[key, value]] : [])),
  );
  const read = trackFormSchema.safeParse(typed);
  if (!read.success) {
    const [issue] = read.error.issues;
    return refused(issue?.message ?? "Reload the page.", typed, issue === undefined ? null : String(issue.path[0]));
  }
  if (!tracks.includes(read.data.track)) return refused("This is not recorded here.", typed);
  const answer = await carry(actor, read.data);
  if (!answer.ok) {
    const { reference, track, seenVersion } = read.data;
    const isStale = answer.reason === "someone-changed-this" || answer.reason === "not-from-here";
    const meanwhile = isStale ? await readTrackChangesSince(actor, reference, track, seenVersion) : null;
    return { kind: "refused", sentence: answer.sentence, field: trackRefusedAt(answer.reason), meanwhile, typed };
  }
  revalidatePath("/bench", "layout");
  revalidatePath("/dealer", "layout");
  return { kind: "done" };
}

function carry(actor: Actor, form: z.output<typeof trackFormSchema>): Promise<TrackAnswer> {
  const { reference, reason, seenVersion } = form;
  switch (form.track) {
    case "safety":
      return flagSafety(actor, reference, { to: form.to, reason, seenVersion });
    case "custody":
      return scanPack(actor, reference, {
        to: form.to,
        reason,
        seenVersion,
        agreement: form.agreement,
        scan: { scanned: form.scanned, cannotBeRead: form.cannotBeRead },
      });
    case "remedy":
      return recordRemedy(actor, reference, { to: form.to, reason, seenVersion });
    case "hold":
      return setLegalHold(actor, reference, { to: form.to, reason, seenVersion });
  }
}
