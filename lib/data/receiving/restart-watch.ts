import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { neededWatchHours } from "@/lib/receiving/watch-hours";
import { currentWatch, watchTasks, watchVerdict } from "@/lib/receiving/watch-readings";
import { readReturnReference } from "@/lib/returns/return-reference";
import { asActor, type Transaction } from "../database";
import { asSafetyOffice } from "../safety/safety-office";
import { readToldSince } from "../safety/told-since";
import type { ReceivingAnswer } from "./receiving";

const refuse = (reason: string, sentence: string): ReceivingAnswer => ({ ok: false, reason, sentence });
const notFound = refuse("not-found", "There is no such return for you.");

/**
 * Begins the watch of a pack in quarantine anew, with the reason: what an alarm meant is the safety officer's or a deputy's
 * to say; whoever receives packs begins anew where a measurement was missed. A flag is lowered by itself, not by this.
 */
export async function restartWatch(
  actor: Actor,
  typedReference: string,
  reason: string,
  now = new Date(),
): Promise<ReceivingAnswer> {
  const reading = readReturnReference(typedReference);
  const mayJudge = may(actor, "lower-safety");
  if (reading.kind !== "reference" || !(mayJudge || may(actor, "receive-pack"))) return notFound;
  const work = (tx: Transaction) => restart(tx, actor, { reference: reading.reference, reason, mayJudge }, now);
  return mayJudge ? asSafetyOffice(actor, work) : asActor(actor, work);
}

interface Asked {
  readonly reference: string;
  readonly reason: string;
  readonly mayJudge: boolean;
}

async function restart(
  tx: Transaction,
  actor: Actor,
  { reference, reason, mayJudge }: Asked,
  now: Date,
): Promise<ReceivingAnswer> {
  const arrival = await tx.arrival.findFirst({
    where: { return: { reference } },
    orderBy: { arrivedAt: "desc" },
    select: {
      id: true,
      arrivedAt: true,
      signs: true,
      boxCondition: true,
      return: { select: { packId: true, dangerSigns: true, conditions: true } },
      measurements: { select: { at: true, surfaceC: true, ambientC: true, terminalV: true, noVoltageBecause: true } },
      restarts: { select: { restartedAt: true } },
    },
  });
  if (arrival === null) return refuse("not-received", "Record first that the pack came in.");
  const begun = arrival.restarts.map(({ restartedAt }) => restartedAt);
  const { startedAt, readings } = currentWatch(arrival.arrivedAt, begun, arrival.measurements);
  const neededHours = neededWatchHours({
    ...arrival.return,
    handSigns: arrival.signs,
    boxCondition: arrival.boxCondition,
    wasToldSince: (await readToldSince(tx, arrival.return.packId)).length > 0,
  });
  const verdict = watchVerdict(readings, neededHours);
  const afterAlarm = verdict.kind === "alarm";
  if (afterAlarm && !mayJudge)
    return refuse("alarm", "It gave an alarm. Only the safety officer or a deputy begins the watch anew.");
  const isMissed =
    verdict.kind === "no-voltage" ||
    watchTasks(startedAt, readings, neededHours, now).some(({ state }) => state === "overdue");
  if (!afterAlarm && !isMissed) return refuse("watch-goes-on", "Nothing was missed: go on measuring.");
  await tx.watchRestart.createMany({
    data: { arrivalId: arrival.id, afterAlarm, reason, restartedAt: now, byUserId: actor.userId, byName: actor.name },
  });
  return { ok: true };
}
