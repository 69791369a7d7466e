import "server-only";
import { isWithinDays } from "@/lib/returns/return-settings.schema";
import { openStatuses } from "@/lib/returns/return-status";
import { whoseTurn } from "@/lib/returns/return-turn";
import type { SendingState } from "@/lib/transport/authorisation";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { asSystem, type Transaction } from "../database";
import { queueNotice } from "../notices/notices";
import { awaitingColumns, dayOf } from "../remedies/comes-back";
import { readTransportIn } from "../transport/transport";
import { readUnitToComeBack } from "../transport/travelling-pack";
import { type LoadedStanding, loadStanding } from "./return-standing";
import { readPackTracks } from "./track-rows";

const LEG = "unit-to-maker";

/** A pack sent in place of the returned one that lies at the dealer's under a class for its way back. */
interface UnitAtDealers {
  readonly declarationId: string;
  readonly sending: SendingState;
}

async function readUnitAtDealers(tx: Transaction, { row }: LoadedStanding, now: Date): Promise<UnitAtDealers | null> {
  const unit = await readUnitToComeBack(tx, row.id);
  if (unit === null || (await readPackTracks(tx, unit.packId)).custody.state !== "with-dealer") return null;
  const transport = await readTransportIn(tx, row.reference, LEG, now);
  const declarationId = transport?.declaration?.id;
  return transport === null || declarationId === undefined ? null : { declarationId, sending: transport.sending };
}

/** Handed back, a return waits for the dealer while something is to come from there: by the day of an order, or of leave to send. */
async function passTurnAfterHandBack(
  tx: Transaction,
  { row, standing }: LoadedStanding,
  unit: UnitAtDealers | null,
): Promise<boolean> {
  if (row.status !== "handed-back") return false;
  const awaited = dayOf(standing.known.awaitedBackBy ?? undefined);
  const mayGo = unit?.sending.kind === "may-send" ? unit.sending.until : null;
  const toDealer = awaited === null ? { turn: "dealer", dueAt: mayGo } : awaitingColumns(awaited, row.dealer.timeZone);
  const isDealers = awaited !== null || mayGo !== null;
  const data = isDealers ? toDealer : { turn: whoseTurn("handed-back"), dueAt: null };
  const isAsBefore = row.turn === data.turn && (!isDealers || row.dueAt?.getTime() === data.dueAt?.getTime());
  if (isAsBefore) return false;
  // Somebody may move the return meanwhile.
  return (await tx.return.updateMany({ where: { id: row.id, version: row.version }, data })).count === 1;
}

/** What stands against sending that nobody at the counter can mend. */
const forTheHouse: readonly SendingState["kind"][] = [
  "expired",
  "rules-changed",
  "evidence-changed",
  "frozen",
  "set-apart",
];

/** Once for each leave: that it ends soon, and, with the house, that it counts no more. */
async function tellOfLeave(
  tx: Transaction,
  { row, standing }: LoadedStanding,
  { declarationId, sending }: UnitAtDealers,
  now: Date,
): Promise<void> {
  const about = { reference: row.reference, returnId: row.id };
  const dealer = { dealerId: row.dealerId };
  if (sending.kind === "may-send") {
    if (!isWithinDays(now, standing.settings.expiryReminderDays, sending.until)) return;
    const until = civilDateAt(sending.until, row.dealer.timeZone);
    const occasion = `replacement ends ${sending.until.toISOString()}`;
    await queueNotice(tx, { ...about, kind: "expiry-reminder", occasion, until, to: dealer });
    return;
  }
  if (!forTheHouse.includes(sending.kind)) return;
  const since = sending.kind === "expired" ? sending.since.toISOString() : sending.kind;
  const occasion = `replacement waits ${declarationId} ${since}`;
  await queueNotice(tx, { ...about, kind: "wait-to-send", occasion, to: dealer });
  await queueNotice(tx, { ...about, kind: "class-needed", occasion, to: { role: "service-lead" } });
}

/** True where the turn changed hands. As the system: class and build of a pack from stock are the house's. */
export function followUnitAtDealersAsSystem(reference: string, now: Date): Promise<boolean> {
  return asSystem(async (tx) => {
    const loaded = await loadStanding(tx, reference, now);
    if (loaded === null) return false;
    const unit = await readUnitAtDealers(tx, loaded, now);
    if (unit !== null) await tellOfLeave(tx, loaded, unit, now);
    return passTurnAfterHandBack(tx, loaded, unit);
  });
}

/** The same for every return that could have one; how many turns changed hands. */
export async function followUnitsAtDealersAsSystem(now: Date): Promise<number> {
  const lies = { pack: { tracks: { some: { track: "custody", state: "with-dealer" } } } };
  const rows = await asSystem((tx) =>
    tx.return.findMany({
      where: {
        settledBefore: false,
        status: { in: [...openStatuses] },
        declarations: { some: { leg: LEG } },
        OR: [
          { status: "handed-back", turn: "dealer" },
          { reservations: { some: { ...lies, OR: [{ endedAt: null }, { ending: "given-up" }] } } },
        ],
      },
      select: { reference: true },
      orderBy: { reference: "asc" },
    }),
  );
  let passed = 0;
  for (const { reference } of rows) passed += (await followUnitAtDealersAsSystem(reference, now)) ? 1 : 0;
  return passed;
}
