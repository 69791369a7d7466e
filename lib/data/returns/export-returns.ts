import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import type { ReturnLine } from "@/lib/returns/returns-csv";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { fromDateColumn, fromOptionalDateColumn } from "../calendar-columns";
import { asActor } from "../database";

/**
 * Returns in bulk for a file, newest first: a dealer's own, or everybody's for those of the house who may take them. Null for
 * whoever may take none.
 */
export async function exportReturns(actor: Actor): Promise<readonly ReturnLine[] | null> {
  const { dealerId } = actor;
  const isOwn = dealerId !== null && may(actor, "export-own-returns");
  if (!isOwn && !may(actor, "export-returns")) return null;
  const rows = await asActor(actor, (tx) =>
    tx.return.findMany({
      where: isOwn ? { dealerId } : {},
      orderBy: [{ lodgedAt: "desc" }, { id: "desc" }],
      select: {
        reference: true,
        status: true,
        symptom: true,
        toldOn: true,
        lodgedAt: true,
        coverOutcome: true,
        coverEndsOn: true,
        dealer: { select: { code: true, timeZone: true } },
        pack: { select: { serial: true, revision: { select: { code: true } } } },
        decision: { select: { remedy: true, confirmedFault: true, decidedAt: true } },
      },
    }),
  );
  return rows.map(({ reference, status, symptom, toldOn, lodgedAt, dealer, pack, decision, ...cover }) => ({
    reference,
    status,
    symptom,
    dealer: dealer.code,
    serial: pack.serial,
    revision: pack.revision.code,
    toldOn: fromDateColumn(toldOn),
    lodgedOn: civilDateAt(lodgedAt, dealer.timeZone),
    coverOutcome: cover.coverOutcome,
    coverEndsOn: fromOptionalDateColumn(cover.coverEndsOn),
    remedy: decision?.remedy ?? null,
    confirmedFault: decision?.confirmedFault ?? null,
    decidedOn: decision === null ? null : civilDateAt(decision.decidedAt, dealer.timeZone),
  }));
}
