import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type MoneyState, moveMoney, readMoneyState } from "@/lib/returns/money-track";
import { readReturnReference } from "@/lib/returns/return-reference";
import { type TrackRequest, trackRefused } from "@/lib/returns/track-step";
import { asActor, type Transaction } from "./database";
import type { TrackAnswer } from "./move-track";
import { lockPack, recordStep } from "./track-rows";
import { breaksUnique } from "./unique-violation";

export const moneyLineKeys = ["labour", "diagnosis", "freight", "parts", "refund"] as const;
export type MoneyLineKey = (typeof moneyLineKeys)[number];

export interface MoneyClaim {
  readonly lineKey: MoneyLineKey;
  /** In the smallest unit of the currency. */
  readonly amountMinor: number;
  readonly currency: string;
}

export type ClaimAnswer =
  | { readonly ok: true; readonly lineId: string }
  | { readonly ok: false; readonly reason: "not-found" | "not-allowed" | "claimed-before"; readonly sentence: string };

/** Claims one line of money on a return. The same kind of line is claimed once until it is reversed. */
export async function claimMoney(actor: Actor, reference: string, claim: MoneyClaim): Promise<ClaimAnswer> {
  const reading = readReturnReference(reference);
  if (!may(actor, "claim-money"))
    return { ok: false, reason: "not-allowed", sentence: "A claim is made by a dealer or by service." };
  try {
    return await asActor(actor, async (tx) => {
      const found =
        reading.kind === "reference"
          ? await tx.return.findUnique({ where: { reference: reading.reference }, select: { id: true } })
          : null;
      if (found === null) return { ok: false, reason: "not-found", sentence: "There is no such return for you." };
      const id = crypto.randomUUID();
      const opened = { openedByUserId: actor.userId, openedByName: actor.name };
      await tx.track.createMany({
        data: [{ id, track: "money", returnId: found.id, state: "claimed", ...claim, ...opened }],
      });
      return { ok: true, lineId: id };
    });
  } catch (error) {
    if (!breaksUnique(error, "lineKey") && !breaksUnique(error, "Track_one_line_of_a_kind")) throw error;
    return { ok: false, reason: "claimed-before", sentence: "This kind of cost is claimed on this return already." };
  }
}

/** Checks, approves, puts into a statement, pays or reverses one line. */
export async function moveMoneyLine(
  actor: Actor,
  lineId: string,
  request: TrackRequest<MoneyState>,
  now = new Date(),
): Promise<TrackAnswer> {
  return asActor(actor, async (tx) => {
    const line = await readLine(tx, lineId);
    if (line === null) return { ok: false, reason: "not-found", sentence: "There is no such line for you." };
    const outcome = moveMoney(actor, line.standing, request);
    if (outcome.kind === "refused") return { ok: false, reason: outcome.why, sentence: outcome.sentence };
    const { from, to, version } = outcome;
    const { returnId, zone } = line;
    const written = { from, to, version, reason: request.reason, at: now, zone, returnId, facts: {} };
    if (await recordStep(tx, actor, lineId, written)) return { ok: true, version };
    const changed = trackRefused("someone-changed-this");
    return { ok: false, reason: changed.why, sentence: changed.sentence };
  });
}

async function readLine(tx: Transaction, lineId: string) {
  const found = await tx.track.findFirst({
    where: { id: lineId, track: "money" },
    select: { returnId: true, return: { select: { packId: true } } },
  });
  if (found?.return === undefined || found.return === null || found.returnId === null) return null;
  await lockPack(tx, found.return.packId);
  const line = await tx.track.findUniqueOrThrow({
    where: { id: lineId },
    select: {
      state: true,
      version: true,
      openedByUserId: true,
      moves: { where: { to: "checked" }, select: { actorUserId: true }, orderBy: { sequence: "desc" }, take: 1 },
      return: {
        select: {
          dealer: { select: { timeZone: true } },
          decision: { select: { remedy: true } },
          moves: { where: { sequence: 1 }, select: { actorUserId: true } },
        },
      },
    },
  });
  const remedy = line.return?.decision?.remedy ?? null;
  return {
    returnId: found.returnId,
    zone: line.return?.dealer.timeZone ?? "UTC",
    standing: {
      state: readMoneyState(line.state),
      version: line.version,
      claimedByUserId: line.openedByUserId,
      lodgedByUserId: line.return?.moves[0]?.actorUserId ?? "",
      checkedByUserId: line.moves[0]?.actorUserId ?? null,
      isOwed: remedy !== null && remedy !== "refuse" && remedy !== "redirect",
    },
  };
}
