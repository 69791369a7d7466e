import { z } from "zod";

/** So long one return may be looked at for one reason. Engineering default; the database allows an hour. */
export const LOOK_MINUTES = 30;

export const emergencyLookSchema = z.object({
  reference: z.string().trim().min(1, "Give the reference of the return.").max(40, "No reference is so long."),
  reason: z
    .string()
    .trim()
    .min(20, "Write in a sentence why you have to see this case: managers read it.")
    .max(1000, "At most 1000 characters."),
});
export type EmergencyLookWish = z.output<typeof emergencyLookSchema>;

export interface LookSpan {
  readonly openedAt: Date;
  readonly endsAt: Date;
}

export function spanOfLook(openedAt: Date): LookSpan {
  return { openedAt, endsAt: new Date(openedAt.getTime() + LOOK_MINUTES * 60_000) };
}

export function isLookRunning({ openedAt, endsAt }: LookSpan, now: Date): boolean {
  return openedAt <= now && now < endsAt;
}
