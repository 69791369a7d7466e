import "server-only";
import { stayWithMaker } from "@/lib/warranty/absences";
import type { CalendarDate } from "@/lib/warranty/calendar";
import type { CoverFacts } from "@/lib/warranty/cover-facts.schema";
import { fromDateColumn } from "../calendar-columns";
import type { Transaction } from "../database";
import { concerning, openOn } from "./issue-bounds";
import type { PackFacts } from "./pack-facts";

export type ChainFacts = Required<Pick<CoverFacts, "earlierReturns" | "fieldActions" | "absences">>;

/**
 * What happened to a pack and to those it replaced: earlier returns with what was done, stays out of the customer's
 * hands, and the field actions open when it was told or today. Give it a system transaction: the returns may be another dealer's.
 */
export async function readChainFacts(
  tx: Transaction,
  pack: Pick<PackFacts, "packId" | "revision" | "saleZone">,
  { toldOn, today = toldOn }: { readonly toldOn: CalendarDate; readonly today?: CalendarDate | undefined },
): Promise<ChainFacts> {
  const returns = await readChainReturns(tx, pack.packId, toldOn);
  // What was opened since the complaint covers it too, and what was closed since still does.
  const fieldActions = await tx.knownIssue.findMany({
    where: {
      coversWhateverTheDate: true,
      AND: [openOn(toldOn, today), concerning({ packId: pack.packId, revisionId: pack.revision.id })],
    },
    select: { title: true },
    orderBy: { openedOn: "asc" },
  });
  return {
    earlierReturns: returns.map(({ toldOn: on, symptom, remedy, handedBackAt, status }) => ({
      toldOn: fromDateColumn(on),
      symptom,
      remedy,
      isCarriedOut: handedBackAt !== null || status === "solved-remotely",
    })),
    fieldActions,
    absences: returns.flatMap(({ lodgedAt, remedy, decidedAt, handedBackAt, leftUserAt, backWithUserAt, dealerZone }) =>
      stayWithMaker({
        lodgedAt,
        decided: remedy === null || decidedAt === null ? null : { remedy, decidedAt },
        handedBackAt,
        leftUserAt: leftUserAt ?? undefined,
        backWithUserAt: backWithUserAt ?? undefined,
        zone: pack.saleZone ?? dealerZone,
      }),
    ),
  };
}

interface ChainReturn {
  readonly toldOn: Date;
  readonly lodgedAt: Date;
  readonly symptom: string;
  readonly status: string;
  readonly dealerZone: string;
  /** With its day, of the decision that stands; null where there is none. */
  readonly remedy: string | null;
  readonly decidedAt: Date | null;
  readonly handedBackAt: Date | null;
  /** By the scans of custody: first out of the user's hands, and last back in them. */
  readonly leftUserAt: Date | null;
  readonly backWithUserAt: Date | null;
}

/**
 * Returns told before a day, of the pack and of those it replaced, the oldest first; in one statement, because a customer waits for
 * it. UNION keeps a chain that leads back to itself from running on.
 */
function readChainReturns(tx: Transaction, packId: string, toldBefore: CalendarDate): Promise<ChainReturn[]> {
  return tx.$queryRaw<ChainReturn[]>`
    WITH RECURSIVE chain("packId") AS (
      SELECT ${packId}::uuid
      UNION
      SELECT r."oldPackId" FROM "Replacement" r JOIN chain c ON r."newPackId" = c."packId")
    SELECT r."toldOn", r."lodgedAt", r."symptom", r."status", e."timeZone" AS "dealerZone", d."remedy", d."decidedAt",
      (SELECT max(m."at") FROM "ReturnMove" m WHERE m."returnId" = r."id" AND m."move" = 'hand-back') AS "handedBackAt",
      (SELECT min(t."at") FROM "TrackMove" t JOIN "Track" k ON k."id" = t."trackId"
        WHERE t."returnId" = r."id" AND k."track" = 'custody' AND t."from" = 'with-customer') AS "leftUserAt",
      (SELECT max(t."at") FROM "TrackMove" t JOIN "Track" k ON k."id" = t."trackId"
        WHERE t."returnId" = r."id" AND k."track" = 'custody' AND t."to" = 'with-customer') AS "backWithUserAt"
    FROM "Return" r
    JOIN "Dealer" e ON e."id" = r."dealerId"
    LEFT JOIN "Decision" d ON d."id" = r."decisionId"
    WHERE r."packId" IN (SELECT "packId" FROM chain) AND r."toldOn" < ${toldBefore}::date
    ORDER BY r."toldOn"`;
}
