import "server-only";
import { type CustodyPlace, readCustodyPlace } from "@/lib/returns/custody-track";
import { readDecidedRemedy } from "@/lib/returns/decision.schema";
import { turnWhenReady } from "@/lib/returns/place-guards";
import { readReturnReference } from "@/lib/returns/return-reference";
import { dueAt } from "@/lib/returns/return-settings.schema";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import type { Prisma } from "@/prisma/generated/client";
import { asSystem, type Transaction } from "../database";
import { queueNotice } from "../notices/notices";
import { readReturnSettings } from "./return-settings";
import { passSendingTurnAsSystem } from "./sending-turn";

const STATUS = "ready-to-hand-back";

const placesSelect = { tracks: { where: { track: "custody" }, select: { state: true } } } as const;
const readySelect = {
  id: true,
  version: true,
  turn: true,
  decision: { select: { remedy: true } },
  dealer: { select: { timeZone: true } },
  pack: { select: placesSelect },
  reservations: { where: { endedAt: null }, select: { pack: { select: placesSelect } } },
} as const satisfies Prisma.ReturnSelect;

type Places = Prisma.PackGetPayload<{ select: typeof placesSelect }>;

const placeOf = (pack: Places | undefined): CustodyPlace | null => {
  const state = pack?.tracks[0]?.state;
  return state === undefined ? null : readCustodyPlace(state);
};

/** Whose turn it is by where the packs are. A pack that nothing moved is with its dealer. */
function turnOf({ decision, pack, reservations }: Pick<ReadyRow, "decision" | "pack" | "reservations">) {
  return turnWhenReady({
    decidedRemedy: readDecidedRemedy(decision?.remedy ?? null),
    custody: placeOf(pack) ?? "with-dealer",
    unitPlace: placeOf(reservations[0]?.pack),
  });
}

type ReadyRow = Prisma.ReturnGetPayload<{ select: typeof readySelect }>;

/** The same for a return that becomes ready with the move under way. */
export async function readTurnWhenReady(tx: Transaction, returnId: string) {
  return turnOf(await tx.return.findUniqueOrThrow({ where: { id: returnId }, select: readySelect }));
}

/**
 * Gives the turn of returns that are ready to whoever has the next step, of one or of all; its clock begins. How many changed hands.
 * As the system: where a pack from stock lies is the house's. No move: nothing became of the return.
 */
export async function passTurnsOfReadyAsSystem(now: Date, reference?: string): Promise<number> {
  const only = reference === undefined ? {} : { reference };
  const rows = await asSystem((tx) =>
    tx.return.findMany({ where: { ...only, status: STATUS, settledBefore: false }, select: readySelect }),
  );
  let passed = 0;
  for (const row of rows) {
    const turn = turnOf(row);
    if (turn !== row.turn) passed += (await asSystem((tx) => pass(tx, row, turn, now))) ? 1 : 0;
  }
  return passed;
}

/**
 * With a pack that leaves, comes back, is flagged or held, the turn of its return passes on at once: of one that is ready,
 * and of one that may be sent, whose page would go on telling the dealer to pack it.
 */
export async function passedOn<Answer extends { readonly ok: boolean }>(
  answer: Answer,
  typedReference: string,
  now: Date,
): Promise<Answer> {
  const reading = readReturnReference(typedReference);
  if (answer.ok && reading.kind === "reference") {
    await passTurnsOfReadyAsSystem(now, reading.reference);
    await passSendingTurnAsSystem(reading.reference, now);
  }
  return answer;
}

async function pass(
  tx: Transaction,
  { id, version, turn: before, dealer }: ReadyRow,
  turn: ReturnType<typeof turnWhenReady>,
  now: Date,
): Promise<boolean> {
  const settings = await readReturnSettings(tx, now, dealer.timeZone);
  // Somebody may have moved the return, or passed the turn, meanwhile.
  const { count } = await tx.return.updateMany({
    where: { id, version, status: STATUS, turn: before },
    data: { turn, dueAt: dueAt(STATUS, now, settings) },
  });
  return count === 1;
}

/** Where a dealer has the turn and nothing else would ask: help tried or not, and what was sent received or not. */
const nobodyElseAsks = [STATUS, "remote-help"] as const;

/** Tells the dealer, once for each day that was set, that a return waits for the workshop. How many were told. */
export async function remindDealersAsSystem(now: Date): Promise<number> {
  const rows = await asSystem((tx) =>
    tx.return.findMany({
      where: { status: { in: [...nobodyElseAsks] }, turn: "dealer", settledBefore: false, dueAt: { lt: now } },
      select: { id: true, reference: true, dealerId: true, dueAt: true, dealer: { select: { timeZone: true } } },
    }),
  );
  let told = 0;
  for (const { id: returnId, reference, dealerId, dueAt: due, dealer } of rows) {
    if (due === null) continue;
    const occasion = `due ${due.toISOString()}`;
    const about = { kind: "your-turn", reference, returnId, occasion } as const;
    const until = civilDateAt(due, dealer.timeZone);
    told += (await asSystem((tx) => queueNotice(tx, { ...about, until, to: { dealerId } }))) ? 1 : 0;
  }
  return told;
}
