import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type DangerSign, dangerSigns } from "@/lib/returns/danger-signs";
import { serialInAnswers } from "@/lib/returns/draft-answers.schema";
import { asSystem } from "../database";

/** A danger told in a return that is not sent, of a pack nobody can name: all that the house needs to ring its dealer. */
export interface UnsentDanger {
  readonly id: string;
  readonly dealer: { readonly name: string; readonly town: string; readonly country: string };
  readonly signs: readonly DangerSign[];
  /** What was typed for the serial; empty where nothing was. */
  readonly serialTyped: string;
  readonly since: Date;
  /** Reference of the incident it opened; null where what was told opens none. */
  readonly incident: string | null;
  readonly savedByName: string;
  readonly savedAt: Date;
  /** Thrown away by the dealer, and kept for the danger. */
  readonly isDropped: boolean;
}

/**
 * Unsent returns in which a danger was told and whose pack nobody knows, the latest first, for those who answer incidents. As
 * the system, because an unsent return is its dealer's: nothing of the customer's words comes out, only what was told of danger.
 */
export async function listUnsentDangers(actor: Actor): Promise<readonly UnsentDanger[]> {
  if (!may(actor, "read-incidents")) return [];
  const { rows, incidents } = await asSystem(async (tx) => {
    const rows = await tx.returnDraft.findMany({
      where: { toldSerial: "", dangerSince: { not: null } },
      orderBy: { dangerSince: "desc" },
      select: {
        id: true,
        dealer: { select: { name: true, town: true, country: true } },
        answers: true,
        toldSigns: true,
        dangerSince: true,
        savedByName: true,
        savedAt: true,
        droppedAt: true,
        clientKey: true,
        dealerId: true,
      },
    });
    const incidents = await tx.incident.findMany({
      where: { draftKey: { in: rows.map(({ clientKey }) => clientKey) } },
      select: { reference: true, draftKey: true, dealerId: true },
      orderBy: { openedAt: "asc" },
    });
    return { rows, incidents };
  });
  return rows.map(({ answers, toldSigns, dangerSince, droppedAt, clientKey, dealerId, ...row }) => ({
    ...row,
    incident: incidents.findLast((one) => one.draftKey === clientKey && one.dealerId === dealerId)?.reference ?? null,
    signs: dangerSigns.filter((sign) => toldSigns.includes(sign)),
    serialTyped: serialInAnswers(answers),
    since: dangerSince ?? row.savedAt,
    isDropped: droppedAt !== null,
  }));
}
