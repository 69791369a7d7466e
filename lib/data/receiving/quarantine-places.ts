import "server-only";
import { z } from "zod";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { storableText } from "@/lib/returns/storable-text";
import { asActor } from "../database";

const words = (most: number, tooShort: string) =>
  storableText({ least: 2, most, tooShort, tooLong: `At most ${most} characters.` });

/** The settings of one place. The limits are agreed with the insurer and the fire service; nothing here knows them better. */
export const quarantinePlaceSchema = z
  .object({
    code: z
      .string("Give the place a short name.")
      .trim()
      .toUpperCase()
      .regex(/^[A-Z0-9][A-Z0-9-]{0,11}$/, "Letters, digits and hyphens, at most twelve."),
    whereItIs: words(200, "Say where it is, so that the fire service finds it."),
    maxPacks: z.coerce.number("A whole number of packs.").int("A whole number of packs.").min(1).max(10_000),
    maxEnergyKwh: z.coerce.number("Kilowatt-hours.").positive("More than nothing.").max(10_000),
    minimumHours: z.coerce.number("Hours.").int("Whole hours.").min(1).max(8760),
    overdueAfterHours: z.coerce.number("Hours.").int("Whole hours.").min(2).max(8760),
    emergencyNumber: words(40, "Give the number to call."),
    onCall: words(120, "Name who is on call."),
    extinguishing: words(200, "Say what is there for putting out and cooling."),
    assemblyPoint: words(120, "Say where people meet."),
  })
  .refine((place) => place.overdueAfterHours > place.minimumHours, {
    path: ["overdueAfterHours"],
    message: "A stay is overdue only after its minimum hours.",
  });
export type QuarantinePlaceSettings = z.output<typeof quarantinePlaceSchema>;

/** Makes a place, or changes its settings; packs that lie there stay, and the board says where a limit is now passed. */
export async function setQuarantinePlace(
  actor: Actor,
  settings: QuarantinePlaceSettings,
  now = new Date(),
): Promise<{ readonly ok: boolean }> {
  if (!may(actor, "set-quarantine-places")) return { ok: false };
  const data = { ...settings, setByUserId: actor.userId, setByName: actor.name, setAt: now };
  await asActor(actor, (tx) =>
    tx.quarantinePlace.upsert({ where: { code: settings.code }, create: data, update: data, select: { id: true } }),
  );
  return { ok: true };
}

export async function readQuarantinePlace(actor: Actor, code: string): Promise<QuarantinePlaceSettings | null> {
  if (!may(actor, "read-build-record")) return null;
  return asActor(actor, (tx) =>
    tx.quarantinePlace.findUnique({
      where: { code: code.toUpperCase() },
      select: {
        code: true,
        whereItIs: true,
        maxPacks: true,
        maxEnergyKwh: true,
        minimumHours: true,
        overdueAfterHours: true,
        emergencyNumber: true,
        onCall: true,
        extinguishing: true,
        assemblyPoint: true,
      },
    }),
  );
}
