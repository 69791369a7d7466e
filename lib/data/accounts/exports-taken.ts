import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import type { Prisma } from "@/prisma/generated/client";
import { asActor } from "../database";

/** Leaves an entry that a file left the house, before it does: what it is, and how its rows were chosen. */
export async function recordExport(
  actor: Actor,
  what: string,
  choice: Prisma.InputJsonObject,
  now = new Date(),
): Promise<void> {
  const { userId, name, role, dealerId } = actor;
  // createMany returns no row: whoever takes a file need not read the entries of others.
  await asActor(actor, (tx) =>
    tx.exportTaken.createMany({
      data: [{ what, choice, byUserId: userId, byName: name, byRole: role, dealerId, at: now }],
    }),
  );
}

export interface ExportEntry {
  readonly id: string;
  readonly what: string;
  readonly choice: string;
  readonly byName: string;
  readonly byRole: string;
  readonly at: Date;
}

/** So many stand on the page. Engineering default, no authority. */
const MOST_SHOWN = 200;

/** Files that left the house, the latest first; null for whoever is not in charge of that. */
export async function listExports(actor: Actor): Promise<readonly ExportEntry[] | null> {
  if (!may(actor, "read-exports")) return null;
  const rows = await asActor(actor, (tx) =>
    tx.exportTaken.findMany({
      orderBy: { at: "desc" },
      take: MOST_SHOWN,
      select: { id: true, what: true, choice: true, byName: true, byRole: true, at: true },
    }),
  );
  return rows.map(({ choice, ...row }) => ({ ...row, choice: inWords(choice) }));
}

function inWords(choice: Prisma.JsonValue): string {
  if (choice === null || typeof choice !== "object" || Array.isArray(choice)) return "";
  return Object.entries(choice)
    .map(([key, value]) => `${key}: ${String(value)}`)
    .join(", ");
}
