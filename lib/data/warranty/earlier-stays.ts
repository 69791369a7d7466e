import "server-only";
import { type Absence, stayWithMaker } from "@/lib/warranty/absences";
import type { CalendarDate } from "@/lib/warranty/calendar";
import type { WarrantyPolicy } from "@/lib/warranty/policy.schema";
import { Prisma } from "@/prisma/generated/client";
import type { Transaction } from "../database";
import { dayOf, dealerZone, decidedSql, standsSql } from "../reliability/returns-as-of";

interface Stay {
  readonly packId: string;
  readonly lodgedAt: Date;
  readonly remedy: string;
  readonly decidedAt: Date;
  readonly handedBackAt: Date | null;
  readonly leftUserAt: Date | null;
  readonly backWithUserAt: Date | null;
  readonly dealerZone: string;
}

/** By pack: its stays out of the customer's hands, on the calendar of a zone or, where none is given, of the dealer's. */
export type EarlierStays = ReadonlyMap<string, readonly ((zone: string | null) => readonly Absence[])[]>;

/**
 * The stays of all packs by a day that may move the end of a cover: none where no policy stops its clock. They are those that
 * `readChainFacts` answers a complaint with, as known on the day.
 */
export async function readEarlierStays(
  tx: Transaction,
  dataDate: CalendarDate,
  policies: readonly WarrantyPolicy[],
): Promise<EarlierStays> {
  if (policies.every(({ clockStop }) => clockStop === "never")) return new Map();
  const day = Prisma.sql`${dataDate}::date`;
  const by = (moment: string) => Prisma.sql`${dayOf(Prisma.raw(moment), dealerZone)} <= ${day}`;
  const scan = (which: "min" | "max", side: "from" | "to") => Prisma.sql`(SELECT ${Prisma.raw(which)}(m."at")
    FROM "TrackMove" m JOIN "Track" k ON k."id" = m."trackId"
    WHERE m."returnId" = t."id" AND k."track" = 'custody' AND m.${Prisma.raw(`"${side}"`)} = 'with-customer' AND ${by('m."at"')})`;
  const rows = await tx.$queryRaw<Stay[]>`
    SELECT t."packId", t."lodgedAt", d."remedy", d."decidedAt", ${dealerZone} AS "dealerZone",
      (SELECT max(v."at") FROM "ReturnMove" v WHERE v."returnId" = t."id" AND v."move" = 'hand-back' AND ${by('v."at"')}) AS "handedBackAt",
      ${scan("min", "from")} AS "leftUserAt", ${scan("max", "to")} AS "backWithUserAt"
    FROM "Return" t JOIN ${decidedSql(day)} d ON d."returnId" = t."id"
    WHERE ${standsSql(day)} ORDER BY t."toldOn"`;
  const stays = new Map<string, ((zone: string | null) => readonly Absence[])[]>();
  for (const { packId, remedy, decidedAt, leftUserAt, backWithUserAt, dealerZone: ofDealer, ...row } of rows) {
    const ofPack = stays.get(packId) ?? [];
    stays.set(packId, ofPack);
    ofPack.push((zone) =>
      stayWithMaker({
        ...row,
        decided: { remedy, decidedAt },
        leftUserAt: leftUserAt ?? undefined,
        backWithUserAt: backWithUserAt ?? undefined,
        zone: zone ?? ofDealer,
      }),
    );
  }
  return stays;
}
