import "server-only";
import { z } from "zod";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { readReturnReference } from "@/lib/returns/return-reference";
import { storableText } from "@/lib/returns/storable-text";
import { asActor } from "../database";
import { shownSerial } from "../packs/pack-words";
import { breaksUnique } from "../unique-violation";

export const nothingOwedSchema = z.object({
  reference: z.string().min(1).max(40),
  reason: storableText({
    least: 3,
    most: 500,
    tooShort: "Write why nothing is owed: the dealer reads it.",
    tooLong: "At most 500 characters.",
  }),
});

export interface ReturnWithoutLine {
  readonly reference: string;
  readonly dealerName: string;
  readonly serialShown: string;
  readonly remedy: string | null;
}

/** Longer lists are worked off from the top. */
const LIST_LIMIT = 100;

/** Returns handed back on which nobody claimed anything and nobody said that nothing is owed. Null where one may not ask. */
export async function listReturnsWithoutLine(actor: Actor): Promise<ReturnWithoutLine[] | null> {
  if (!mayState(actor)) return null;
  const rows = await asActor(actor, (tx) =>
    tx.return.findMany({
      where: { status: "handed-back", settledBefore: false, settlementLines: { none: {} }, nothingOwed: null },
      select: {
        reference: true,
        dealer: { select: { name: true } },
        pack: { select: { serial: true } },
        decision: { select: { remedy: true } },
      },
      orderBy: { dueAt: "asc" },
      take: LIST_LIMIT,
    }),
  );
  return rows.map(({ reference, dealer, pack, decision }) => ({
    reference,
    dealerName: dealer.name,
    serialShown: shownSerial(pack.serial),
    remedy: decision?.remedy ?? null,
  }));
}

function mayState(actor: Actor): boolean {
  return may(actor, "state-nothing-owed");
}

export type NothingOwedAnswer = { readonly ok: true } | { readonly ok: false; readonly sentence: string };

/** Says by name that nothing is owed on a return, once. What is claimed later is settled like any other line. */
export async function stateNothingOwed(
  actor: Actor,
  { reference: typed, reason }: z.output<typeof nothingOwedSchema>,
  now = new Date(),
): Promise<NothingOwedAnswer> {
  const reading = readReturnReference(typed);
  if (!mayState(actor))
    return { ok: false, sentence: "The service lead, a manager or finance says that nothing is owed." };
  if (reading.kind !== "reference") return { ok: false, sentence: "There is no such return for you." };
  try {
    return await asActor(actor, async (tx): Promise<NothingOwedAnswer> => {
      const row = await tx.return.findUnique({
        where: { reference: reading.reference },
        select: { id: true, _count: { select: { settlementLines: true } } },
      });
      if (row === null) return { ok: false, sentence: "There is no such return for you." };
      if (row._count.settlementLines > 0)
        return { ok: false, sentence: "There is a line on this return: settle it instead." };
      const by = { statedByUserId: actor.userId, statedByName: actor.name, statedAt: now };
      await tx.nothingOwed.create({ data: { returnId: row.id, why: reason, ...by } });
      return { ok: true };
    });
  } catch (error) {
    if (breaksUnique(error, "NothingOwed_pkey")) return { ok: false, sentence: "Somebody said so already." };
    throw error;
  }
}
