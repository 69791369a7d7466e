import "server-only";
import type { Actor } from "@/lib/access/actor";
import { type Act, may } from "@/lib/access/may";
import { incidentChecklist } from "@/lib/safety/incident-checklist";
import { type IncidentDecision, openClocks } from "@/lib/safety/incident-decision";
import type { IncidentEntryContent } from "@/lib/safety/incident-entry.schema";
import { readIncidentReference } from "@/lib/safety/incident-reference";
import type { NamedPattern } from "@/lib/safety/pattern-flags";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { sayDate } from "@/lib/warranty/say-date";
import type { Transaction } from "../database";
import { breaksUnique } from "../unique-violation";
import { readIncident } from "./incidents";
import { appendAfterLast } from "./open-incident";
import { closedBefore, type IncidentAnswer } from "./raise-incident";
import { asSafetyOffice } from "./safety-office";

const notFound: IncidentAnswer = { ok: false, sentence: "There is no such incident for you." };
const moreBecameKnown: IncidentAnswer = {
  ok: false,
  sentence: "Something more became known meanwhile. Read what is on the page now, then answer in the light of it.",
};

/** Records a named person's decision on one clock, with its reason and the advice it rests on. */
export async function decideOnClock(
  actor: Actor,
  reference: string,
  decision: IncidentDecision,
  now = new Date(),
): Promise<IncidentAnswer> {
  const incident = await readIncident(actor, reference, now);
  const running = incident?.clocks.find(({ clock }) => clock.id === decision.clockId);
  if (running === undefined) return notFound;
  const { seenEntries, until = null, ...decided } = decision;
  const today = civilDateAt(now, running.clock.zone);
  if (until !== null && until <= today)
    return {
      ok: false,
      field: "until",
      sentence: `An investigation ends on a day after today. There it is ${sayDate(today)} now.`,
    };
  return append(actor, reference, now, { kind: "decision", ...decided, until }, { seenEntries });
}

/** Ticks one line of the checklist in this person's name. */
export async function tickLine(
  actor: Actor,
  reference: string,
  line: string,
  now = new Date(),
): Promise<IncidentAnswer> {
  if (!incidentChecklist.some(({ id }) => id === line)) return notFound;
  return append(actor, reference, now, { kind: "checklist", line });
}

/** Records that a named person found the defect to be safety-related: some clocks begin with that. */
export function recordDetermination(
  actor: Actor,
  reference: string,
  note: string,
  now = new Date(),
): Promise<IncidentAnswer> {
  return append(actor, reference, now, { kind: "determination", determinedAt: now.toISOString(), note });
}

/** Records a pattern only a person can see. */
export function recordPattern(
  actor: Actor,
  reference: string,
  pattern: NamedPattern,
  note: string,
  now = new Date(),
): Promise<IncidentAnswer> {
  return append(actor, reference, now, { kind: "pattern", pattern, note });
}

/**
 * Takes notice in this person's name of everything up to the last entry they had read: the calls end. What was told since
 * is not noticed by it. Taking notice decides nothing, and a second time changes nothing.
 */
export async function acknowledgeIncident(
  actor: Actor,
  reference: string,
  seenEntries: number,
  now = new Date(),
): Promise<IncidentAnswer> {
  const incident = await readIncident(actor, reference, now);
  if (incident === null) return notFound;
  if (incident.state.acknowledged !== null) return { ok: true, reference: incident.reference };
  if (!may(actor, "acknowledge-incident")) return notFound;
  return append(actor, reference, now, { kind: "acknowledged" }, { act: "acknowledge-incident", seenEntries });
}

/** Closes an incident and ends its hold, once every clock that may be running has a decision that is not pending. */
export async function closeIncident(
  actor: Actor,
  reference: string,
  reason: string,
  now = new Date(),
): Promise<IncidentAnswer> {
  const incident = await readIncident(actor, reference, now);
  if (incident === null) return notFound;
  const running = incident.clocks
    .filter(({ state }) => state !== "waits-for-determination")
    .map(({ clock }) => clock.id);
  const latest = new Map([...incident.state.decisions].map(([id, { decision }]) => [id, decision] as const));
  const open = openClocks(running, latest);
  if (open.length > 0) {
    const names = incident.clocks.filter(({ clock }) => open.includes(clock.id)).map(({ clock }) => clock.name);
    const isOvertaken = open.some((id) => incident.state.overtaken.has(id));
    const why = isOvertaken ? " More became known after some were decided: decide them anew." : "";
    return { ok: false, sentence: `These clocks have no final decision yet: ${names.join("; ")}.${why}` };
  }
  return append(
    actor,
    reference,
    now,
    { kind: "closed", reason },
    {
      // What was told since those decisions were read would make them decisions of the past.
      seenEntries: incident.entries.at(-1)?.sequence ?? 0,
      also: (tx, incidentId) =>
        tx.incidentClosing.create({
          data: { incidentId, closedAt: now, closedByUserId: actor.userId, closedByName: actor.name },
        }),
    },
  );
}

interface Appending {
  readonly act?: Act;
  /** The last entry this person had read, where what they write rests on it. */
  readonly seenEntries?: number;
  readonly also?: (tx: Transaction, incidentId: string) => Promise<unknown>;
}

async function append(
  actor: Actor,
  typedReference: string,
  now: Date,
  content: IncidentEntryContent,
  { act = "keep-incident", seenEntries, also }: Appending = {},
): Promise<IncidentAnswer> {
  const reference = readIncidentReference(typedReference);
  if (reference === null || !may(actor, act)) return notFound;
  try {
    return await asSafetyOffice(actor, async (tx): Promise<IncidentAnswer> => {
      const incident = await tx.incident.findUnique({
        where: { reference },
        select: { id: true, closing: { select: { closedAt: true } } },
      });
      if (incident === null) return notFound;
      if (incident.closing !== null) return closedBefore;
      const appended = await appendAfterLast(tx, actor, incident.id, [content], now, seenEntries);
      if (appended.kind !== "appended") return appended.kind === "closed" ? closedBefore : moreBecameKnown;
      await also?.(tx, incident.id);
      return { ok: true, reference };
    });
  } catch (error) {
    if (!breaksUnique(error, "IncidentEntry_incidentId_sequence_key")) throw error;
    return { ok: false, sentence: "Somebody else wrote at the same moment. Look at it as it is now, then try again." };
  }
}
