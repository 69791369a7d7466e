import "server-only";
import { stayWithMaker } from "@/lib/warranty/absences";
import type { CalendarDate } from "@/lib/warranty/calendar";
import type { CoverFacts } from "@/lib/warranty/cover-facts.schema";
import { fromDateColumn, toDateColumn } from "./calendar-columns";
import type { Transaction } from "./database";
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
  const packIds = await readChainPackIds(tx, pack.packId);
  const returns = await tx.return.findMany({
    where: { packId: { in: packIds }, toldOn: { lt: toDateColumn(toldOn) } },
    select: {
      toldOn: true,
      lodgedAt: true,
      symptom: true,
      status: true,
      dealer: { select: { timeZone: true } },
      decision: { select: { remedy: true, decidedAt: true } },
      moves: { where: { move: "hand-back" }, orderBy: { at: "desc" }, take: 1, select: { at: true } },
      trackMoves: {
        where: { track: { track: "custody" } },
        select: { at: true, from: true, to: true },
        orderBy: [{ at: "asc" }, { sequence: "asc" }],
      },
    },
    orderBy: { toldOn: "asc" },
  });
  const fieldActions = await tx.knownIssue.findMany({
    where: { coversWhateverTheDate: true, ...openFor(pack, toldOn, today) },
    select: { title: true },
    orderBy: { openedOn: "asc" },
  });
  return {
    earlierReturns: returns.map(({ symptom, decision, moves, ...row }) => ({
      toldOn: fromDateColumn(row.toldOn),
      symptom,
      remedy: decision?.remedy ?? null,
      isCarriedOut: moves.length > 0 || row.status === "solved-remotely",
    })),
    fieldActions,
    absences: returns.flatMap(({ lodgedAt, decision, moves, trackMoves, dealer }) =>
      stayWithMaker({
        lodgedAt,
        decided: decision,
        handedBackAt: moves[0]?.at ?? null,
        leftUserAt: trackMoves.find(({ from }) => from === "with-customer")?.at,
        backWithUserAt: trackMoves.findLast(({ to }) => to === "with-customer")?.at,
        zone: pack.saleZone ?? dealer.timeZone,
      }),
    ),
  };
}

/** The pack itself first, then those it replaced. UNION keeps a chain that leads back to itself from running on. */
async function readChainPackIds(tx: Transaction, packId: string): Promise<string[]> {
  const rows = await tx.$queryRaw<{ packId: string }[]>`
    WITH RECURSIVE chain("packId") AS (
      SELECT ${packId}::uuid
      UNION
      SELECT r."oldPackId" FROM "Replacement" r JOIN chain c ON r."newPackId" = c."packId")
    SELECT "packId"::text AS "packId" FROM chain`;
  return rows.map((row) => row.packId);
}

/**
 * Known issues bound to the pack's revision, to one of its lots, or to both, that are open on one of the days: what was
 * opened since the complaint covers it too, and what was closed since still does.
 */
function openFor(pack: Pick<PackFacts, "packId" | "revision">, ...days: readonly CalendarDate[]) {
  const isOpenOn = (on: CalendarDate) => ({
    openedOn: { lte: toDateColumn(on) },
    OR: [{ closedOn: null }, { closedOn: { gt: toDateColumn(on) } }],
  });
  return {
    AND: [
      { OR: days.map(isOpenOn) },
      { OR: [{ revisionId: null }, { revisionId: pack.revision.id }] },
      { OR: [{ lotId: null }, { lot: { packs: { some: { packId: pack.packId, removedOn: null } } } }] },
    ],
  };
}
