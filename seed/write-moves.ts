import type { Role } from "@/lib/access/actor";
import type { Transaction } from "@/lib/data/database";
import { endReservation, keepUnit } from "@/lib/data/remedies/keep-unit";
import { readKeptUnit } from "@/lib/data/remedies/replacement-units";
import { appendMove } from "@/lib/data/returns/history";
import { lockPack, openTrack, readPackTracks, recordStep } from "@/lib/data/returns/track-rows";
import { raiseWithReturn } from "@/lib/data/safety/raise-with-return";
import type { SafetyClass } from "@/lib/diagnosis/finding";
import { caseMoves } from "@/lib/returns/case-moves";
import { dangerOf } from "@/lib/returns/danger-signs";
import { deniesRemedy } from "@/lib/returns/decision.schema";
import type { MoveName } from "@/lib/returns/move-names";
import { type DatedReturnSettings, dueAt, settingsOn } from "@/lib/returns/return-settings.schema";
import { type ReturnStatus, readReturnStatus } from "@/lib/returns/return-status";
import { whoseTurn } from "@/lib/returns/return-turn";
import { isSetApart } from "@/lib/returns/safety-track";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import type { Prisma } from "@/prisma/generated/client";
import { safetyOfficerEmail } from "./scenario/dealers";
import { type Journey, journeyOf, type Step } from "./scenario/journey";
import type { ScenarioReturn } from "./scenario/scenario";

export interface Person {
  readonly userId: string;
  readonly name: string;
  readonly role: Role;
}

export interface MovesToWrite {
  readonly one: ScenarioReturn;
  readonly zone: string;
  /** The periods two people agreed to; the same for all returns, so they are read once. */
  readonly settings: readonly DatedReturnSettings[];
  /** Nothing happened after it. */
  readonly until: Date;
  readonly people: ReadonlyMap<string, Person>;
  readonly lodger: Person;
  readonly suggestionId: string | null;
  readonly safetyClasses: readonly SafetyClass[];
  readonly replacementRevisionId: string | null;
  /** The pack that was handed over in its place, and when; null where none was. */
  readonly replacedBy: { readonly serial: string; readonly deliveredOn: string } | null;
}

/**
 * Writes the way of one return as far as it had come on the data date: each step through the table of moves, chained
 * into the history, with the safety flag its danger signs raise and the place its pack was taken to.
 */
export async function writeMoves(tx: Transaction, moves: MovesToWrite): Promise<void> {
  const { one, zone, lodger, people } = moves;
  const row = await tx.return.findUniqueOrThrow({ where: { id: one.id }, select: { packId: true, dealerId: true } });
  await lockPack(tx, row.packId);
  const at = new Date(one.lodgedAt);
  const writer = new JourneyWriter(tx, moves, row.packId);
  await writer.lodge(at);
  const danger = dangerOf(one.dangerSigns);
  const { safetyClasses } = moves;
  await raiseWithReturn(tx, lodger, { returnId: one.id, packId: row.packId, danger, safetyClasses, at, zone });
  if (danger.kind !== "none") {
    await tx.safetyFlag.create({
      data: {
        packId: row.packId,
        returnId: one.id,
        dealerId: row.dealerId,
        signs: [...one.dangerSigns],
        raisedByUserId: lodger.userId,
        raisedByName: lodger.name,
        raisedAt: at,
      },
    });
  }
  const journey = journeyOf(one, moves.replacedBy, moves.until);
  // What the readings alone set apart is judged before anything is done with the pack, like a danger sign.
  if (danger.kind === "none") await writer.judge(journey);
  for (const step of journey.steps) await writer.take(step, journey, need(people, lodger, step.by));
  await writer.finish();
}

function need(people: ReadonlyMap<string, Person>, lodger: Person, by: string): Person {
  if (by === "lodger") return lodger;
  const person = people.get(by);
  if (person === undefined) throw new RangeError(`${by} is nobody of the scenario`);
  return person;
}

class JourneyWriter {
  private status: ReturnStatus | null = null;
  private version = 0;
  private decidedSince: Date | null = null;
  private lastAt = new Date(0);
  private taken: Person | null = null;
  private due: Date | null = null;
  private paused: number | null = null;

  private readonly tx: Transaction;
  private readonly moves: MovesToWrite;
  private readonly packId: string;

  constructor(tx: Transaction, moves: MovesToWrite, packId: string) {
    this.tx = tx;
    this.moves = moves;
    this.packId = packId;
  }

  async lodge(at: Date): Promise<void> {
    await this.append("lodge", "sent-in", this.moves.lodger, at, "Lodged by the dealer.", {});
    this.due = this.dueFor("sent-in", at);
  }

  async take(step: Step, journey: Journey, person: Person): Promise<void> {
    const at = new Date(step.at);
    if (step.custody !== undefined)
      await this.track("custody", step.custody, person, at, "Went along with the return.");
    if (step.lowersSafety) await this.lowerSafety(person, at, step.reason);
    if (step.move === null) return;
    if (step.move === "approve") await this.decide(journey, person, at);
    await this.append(step.move, step.to, person, at, step.reason, step.facts);
    await this.keepReplacement(step, person, at);
    this.runClock(step, at);
    if (["take", "propose"].includes(step.move)) this.taken = person;
  }

  /** The pack that goes out instead is kept when work begins and given out when it is handed over. */
  private async keepReplacement({ move, facts }: Step, person: Person, at: Date): Promise<void> {
    const { one } = this.moves;
    const serial = facts.stated?.reservedSerial;
    if (move === "start-work" && typeof serial === "string") {
      const { id } = await this.tx.pack.findUniqueOrThrow({ where: { serial }, select: { id: true } });
      await keepUnit(this.tx, person, { returnId: one.id, packId: id, now: at });
    }
    const kept = move === "hand-back" ? await readKeptUnit(this.tx, one.id) : null;
    if (kept !== null)
      await endReservation(this.tx, person, kept.reservationId, { ending: "handed-over", because: null, now: at });
  }

  async judge({ steps }: Journey): Promise<void> {
    const taken = steps.find(({ move }) => move === "take");
    const officer = this.moves.people.get(safetyOfficerEmail);
    const { decision } = this.moves.one;
    const staysApart = decision === null ? steps.some(({ move }) => move === "propose") : decision.remedy === "isolate";
    if (taken === undefined || officer === undefined || staysApart) return;
    await this.lowerSafety(officer, new Date(taken.at), "Judged from photographs and readings.");
  }

  async finish(): Promise<void> {
    if (this.status === null) return;
    await this.tx.return.update({
      where: { id: this.moves.one.id },
      data: {
        turn: whoseTurn(this.status),
        dueAt: this.due,
        pausedMinutesLeft: this.paused,
        takenByName: this.taken?.name ?? null,
        takenByUserId: this.taken?.userId ?? null,
      },
      select: { id: true },
    });
  }

  private async append(
    move: MoveName,
    to: ReturnStatus,
    person: Person,
    at: Date,
    reason: string,
    facts: Prisma.InputJsonObject,
  ): Promise<void> {
    const { one, zone } = this.moves;
    const from = this.status;
    if (!caseMoves[move].from.includes(from) || at < this.lastAt) {
      throw new RangeError(`return ${one.key}: no ${move} from ${from} on ${at.toISOString()}`);
    }
    this.version += 1;
    if (this.version > 1) {
      const data = { status: to, version: this.version };
      await this.tx.return.update({ where: { id: one.id }, data, select: { id: true } });
    }
    await appendMove(this.tx, person, {
      returnId: one.id,
      move,
      from,
      to,
      reason,
      dataVersion: this.version,
      ruleVersion: null,
      at,
      zone,
      facts,
    });
    this.status = readReturnStatus(to);
    this.lastAt = at;
  }

  private dueFor(to: ReturnStatus, at: Date): Date | null {
    return dueAt(to, at, settingsOn(this.moves.settings, civilDateAt(at, this.moves.zone)));
  }

  private runClock({ move, to, facts }: Step, at: Date): void {
    if (move === "ask" && this.due !== null) {
      this.paused = Math.round((this.due.getTime() - at.getTime()) / 60_000);
      this.due = new Date(`${String(facts.stated?.dueOn)}T23:59:59.999Z`);
      return;
    }
    this.paused = null;
    this.due = this.dueFor(to, at);
  }

  private async track(kind: "custody" | "safety", to: string, person: Person, at: Date, reason: string): Promise<void> {
    const { [kind]: track } = await readPackTracks(this.tx, this.packId);
    if (track.state === to) return;
    const trackId = track.id ?? (await openTrack(this.tx, person, { track: kind, packId: this.packId }, track.state));
    const { zone, one } = this.moves;
    const version = track.version + 1;
    const step = { from: track.state, to, version, reason, at, zone, returnId: one.id, facts: {} };
    if (!(await recordStep(this.tx, person, trackId, step))) throw new Error(`return ${one.key}: ${kind} did not move`);
  }

  private async lowerSafety(person: Person, at: Date, reason: string): Promise<void> {
    const { safety } = await readPackTracks(this.tx, this.packId);
    if (isSetApart(safety.state)) await this.track("safety", "caution", person, at, reason);
  }

  private async decide(journey: Journey, person: Person, at: Date): Promise<void> {
    const { one, suggestionId, replacementRevisionId, people, lodger } = this.moves;
    const { decision } = one;
    if (decision === null || this.decidedSince !== null) return;
    const proposer = need(people, lodger, journey.proposedBy);
    await this.tx.decision.create({
      data: {
        returnId: one.id,
        remedy: decision.remedy,
        confirmedFault: decision.confirmedFault,
        confirmedFailure: decision.confirmedFailure,
        reason: decision.reason,
        ...(deniesRemedy(decision) ? named : {}),
        replacementRevisionId,
        suggestionId,
        seenVersion: this.version - 1,
        proposedByUserId: proposer.userId,
        proposedByName: proposer.name,
        decidedByUserId: person.userId,
        decidedByName: person.name,
        decidedAt: at,
      },
      select: { id: true },
    });
    this.decidedSince = at;
  }
}

/** What a decision that leaves the customer without a remedy names; invented, like the story. */
const named = {
  refusalTerm: "The guarantee covers faults that the pack had when it was delivered.",
  refusalEvidence: "The readings that were sent in and what was measured at the bench show no fault of the pack.",
  refusalAlternatives: "A fault that shows under load alone: the pack was loaded to its limit, and none showed.",
};
