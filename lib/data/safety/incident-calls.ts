import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { foldIncident } from "@/lib/safety/fold-incident";
import { reportingClocks } from "@/lib/safety/reporting-clocks";
import { MINUTE_MS } from "@/lib/warranty/clock-spans";
import { asActor, asSystem, type Transaction } from "../database";
import { readEnvironment } from "../env";
import { noticePath, queueNotice } from "../notices/notices";
import { readReturnSettings } from "../returns/return-settings";
import { readHolidays } from "./clock-holidays";
import { readCountriesOfSale } from "./countries-of-sale";
import { entriesOf } from "./incidents";

/** A pager service that does not answer must not hold the round up. Engineering default. */
const HOOK_TIMEOUT_MS = 10_000;
/** Tries of one call before the next call takes over. Engineering default. */
const HOOK_TRIES = 5;
/** References in the banner; the list of incidents has them all. */
const BANNER_LIMIT = 20;

interface Unanswered {
  readonly id: string;
  readonly reference: string;
}

/**
 * Open, and nobody has taken notice of everything that was told of it since a clock last called for its decision, the oldest first:
 * all that are so, or the one that is named where it is.
 */
async function findUnanswered(tx: Transaction, now: Date, only: { readonly id?: string } = {}): Promise<Unanswered[]> {
  const open = await tx.incident.findMany({
    where: { ...only, closing: null },
    select: {
      id: true,
      reference: true,
      packId: true,
      entries: {
        select: { sequence: true, content: true, at: true, byUserId: true, byName: true },
        orderBy: { sequence: "asc" },
      },
    },
    orderBy: { openedAt: "asc" },
  });
  if (open.length === 0) return [];
  const asOf = { set: reportingClocks, holidays: await readHolidays(tx), now };
  const soldIn = await readCountriesOfSale(
    tx,
    open.map(({ packId }) => packId),
  );
  // One that has lost its entries is nobody's to pass over.
  return open.filter(
    ({ packId, entries }) =>
      entries.length === 0 || foldIncident(entriesOf(entries), asOf, soldIn.get(packId ?? "")).acknowledged === null,
  );
}

/** Calls the safety officer in the transaction in which more became known, unless whoever took notice told it. */
export async function callAfterTelling(
  tx: Transaction,
  incidentId: string,
  sequence: number,
  now: Date,
): Promise<void> {
  const [incident] = await findUnanswered(tx, now, { id: incidentId });
  if (incident === undefined) return;
  const { reference } = incident;
  await queueNotice(tx, {
    kind: "incident-call",
    reference,
    occasion: `told ${sequence}`,
    to: { role: "safety-officer" },
  });
}

/**
 * Calls the safety officer about every incident that nobody has acknowledged, and again after the time that is set: by
 * letter, on the pages, and through a web address where one is set. As the system: nobody is signed in. The number of the
 * call is unique, so of two rounds at once one calls.
 */
export async function callSafetyOfficerAsSystem(now: Date): Promise<number> {
  const open = await asSystem((tx) => findUnanswered(tx, now));
  let calls = 0;
  for (const { id } of open) calls += (await asSystem((tx) => callIfDue(tx, id, now))) ? 1 : 0;
  return calls;
}

async function callIfDue(tx: Transaction, incidentId: string, now: Date): Promise<boolean> {
  if ((await findUnanswered(tx, now, { id: incidentId })).length === 0) return false;
  const incident = await tx.incident.findUniqueOrThrow({
    where: { id: incidentId },
    select: {
      reference: true,
      dealer: { select: { timeZone: true } },
      pages: { orderBy: { number: "desc" }, take: 1, select: { number: true, pagedAt: true } },
    },
  });
  const { callAgainMinutes } = await readReturnSettings(tx, now, incident.dealer?.timeZone ?? "UTC");
  const [last] = incident.pages;
  if (last !== undefined && now.getTime() < last.pagedAt.getTime() + callAgainMinutes * MINUTE_MS) return false;
  const number = (last?.number ?? 0) + 1;
  const hasHook = readEnvironment().pagerUrl !== null;
  const { count } = await tx.incidentPage.createMany({
    data: {
      incidentId,
      number,
      pagedAt: now,
      hookState: hasHook ? "waiting" : "none",
      nextAttemptAt: hasHook ? now : null,
    },
    skipDuplicates: true,
  });
  if (count === 0) return false;
  await queueNotice(tx, {
    kind: "incident-call",
    reference: incident.reference,
    occasion: `call ${number}`,
    to: { role: "safety-officer" },
  });
  return true;
}

/** Sends what waits for the second channel; outside every transaction, claimed before and marked after. */
export async function sendPagerCallsAsSystem(now: Date): Promise<{ sent: number; failed: number }> {
  const { pagerUrl, appUrl } = readEnvironment();
  const round = { sent: 0, failed: 0 };
  if (pagerUrl === null) return round;
  const due = await asSystem((tx) =>
    tx.incidentPage.findMany({
      where: { hookState: "waiting", nextAttemptAt: { lte: now } },
      select: { id: true, number: true, hookAttempts: true, incident: { select: { reference: true } } },
      orderBy: { pagedAt: "asc" },
      take: 20,
    }),
  );
  for (const { id, number, hookAttempts, incident } of due) {
    const attempts = hookAttempts + 1;
    const nextAttemptAt = new Date(now.getTime() + attempts * MINUTE_MS);
    const claimed = await asSystem((tx) =>
      tx.incidentPage.updateMany({
        where: { id, hookState: "waiting", hookAttempts },
        data: { hookAttempts: attempts, nextAttemptAt },
      }),
    );
    if (claimed.count !== 1) continue;
    const problem = await post(pagerUrl, {
      incident: incident.reference,
      call: number,
      // Whoever listens there learns that there is an incident, and nothing of the pack or of people.
      text: `Safety incident ${incident.reference} is not acknowledged (call ${number}).`,
      link: `${appUrl}${noticePath("incident-call", incident.reference, false)}`,
    });
    round[problem === null ? "sent" : "failed"] += 1;
    const isOver = problem === null || attempts >= HOOK_TRIES;
    await asSystem((tx) =>
      tx.incidentPage.update({
        where: { id },
        data: {
          hookState: problem === null ? "sent" : isOver ? "failed" : "waiting",
          nextAttemptAt: isOver ? null : nextAttemptAt,
          lastProblem: problem,
        },
        select: { id: true },
      }),
    );
  }
  return round;
}

/** Null where it was taken; else what went wrong, for the record. */
async function post(address: string, body: object): Promise<string | null> {
  try {
    const response = await fetch(address, {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body: JSON.stringify(body),
      signal: AbortSignal.timeout(HOOK_TIMEOUT_MS),
      redirect: "error",
    });
    return response.ok ? null : `Answered ${response.status}.`;
  } catch (error) {
    return (error instanceof Error ? error.message : "It could not be reached.").slice(0, 300);
  }
}

/** The incidents that this person should take notice of now, the oldest first; for the banner on the pages. */
export async function listUnansweredIncidents(actor: Actor, now = new Date()): Promise<readonly string[]> {
  if (!may(actor, "acknowledge-incident")) return [];
  const rows = await asActor(actor, (tx) => findUnanswered(tx, now));
  return rows.slice(0, BANNER_LIMIT).map(({ reference }) => reference);
}
