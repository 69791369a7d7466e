import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { asksForDecision, clockStanding, investigationEnd } from "@/lib/safety/clock-standing";
import { foldIncident, type IncidentEntryRow, type IncidentState } from "@/lib/safety/fold-incident";
import { incidentEntrySchema } from "@/lib/safety/incident-entry.schema";
import { readIncidentReference } from "@/lib/safety/incident-reference";
import { type FlaggedEvent, findPatterns, type Pattern } from "@/lib/safety/pattern-flags";
import { reportingClocks } from "@/lib/safety/reporting-clocks";
import { type RunningClock, runClocks } from "@/lib/safety/run-clocks";
import type { Prisma } from "@/prisma/generated/client";
import { asActor, type Transaction } from "../database";
import { shownSerial } from "../packs/pack-words";
import { readHolidays } from "./clock-holidays";
import { readCountriesOfSale } from "./countries-of-sale";

const incidentSelect = {
  reference: true,
  packId: true,
  openedAt: true,
  openedByName: true,
  dealer: { select: { name: true, town: true, country: true } },
  return: { select: { reference: true } },
  pack: {
    select: {
      serial: true,
      revision: { select: { code: true, model: { select: { name: true } } } },
      lots: { where: { removedOn: null }, select: { lot: { select: { code: true } } } },
    },
  },
  entries: {
    orderBy: { sequence: "asc" },
    select: { sequence: true, content: true, at: true, byUserId: true, byName: true },
  },
} as const satisfies Prisma.IncidentSelect;

type IncidentRow = Prisma.IncidentGetPayload<{ select: typeof incidentSelect }>;

export interface IncidentView {
  readonly reference: string;
  readonly openedAt: Date;
  readonly openedByName: string;
  readonly returnReference: string | null;
  /** Null while nobody can name it. */
  readonly pack: {
    readonly serialShown: string;
    readonly modelName: string;
    readonly revisionCode: string;
    readonly lotCodes: readonly string[];
  } | null;
  readonly dealer: { readonly name: string; readonly town: string; readonly country: string } | null;
  readonly state: IncidentState;
  readonly entries: readonly IncidentEntryRow[];
  /** The most pressing first. */
  readonly clocks: readonly RunningClock[];
}

export interface IncidentsPage {
  /** All of them, however many. */
  readonly open: readonly IncidentView[];
  /** Those closed last. */
  readonly closed: readonly IncidentView[];
  readonly closedCount: number;
  /** Over every incident, also those not listed. */
  readonly patterns: readonly Pattern[];
}

/** Closed ones on the page, until all are asked for. Engineering default. */
const CLOSED_LIMIT = 200;

/**
 * Every open incident with its clocks, the most pressing first, those closed last, and what all of them have in common;
 * null for other roles. An open one never gives way to newer ones: its clocks may be running.
 */
export async function listIncidents(
  actor: Actor,
  now = new Date(),
  closedLimit: number | "all" = CLOSED_LIMIT,
): Promise<IncidentsPage | null> {
  if (!may(actor, "read-incidents")) return null;
  return asActor(actor, async (tx) => {
    const holidays = await readHolidays(tx);
    const open = await tx.incident.findMany({ where: { closing: null }, select: incidentSelect });
    const closed = await tx.incident.findMany({
      where: { closing: { isNot: null } },
      select: incidentSelect,
      orderBy: { closing: { closedAt: "desc" } },
      ...(closedLimit === "all" ? {} : { take: closedLimit }),
    });
    const soldIn = await readCountriesOfSale(
      tx,
      [...open, ...closed].map(({ packId }) => packId),
    );
    return {
      open: open
        .map((row) => incidentView(row, holidays, soldIn, now))
        .sort((a, b) => firstEnd(a, now) - firstEnd(b, now)),
      closed: closed.map((row) => incidentView(row, holidays, soldIn, now)),
      closedCount: await tx.incidentClosing.count(),
      patterns: findPatterns(await readFlaggedEvents(tx)),
    };
  });
}

/** What every incident there ever was has to do with others, and nothing else of it. */
async function readFlaggedEvents(tx: Transaction): Promise<FlaggedEvent[]> {
  const rows = await tx.incident.findMany({
    select: {
      reference: true,
      pack: { select: incidentSelect.pack.select },
      entries: { where: { kind: "flags" }, select: { content: true } },
    },
  });
  return rows.map(({ reference, pack, entries }) => ({
    reference,
    flags: entries.flatMap(({ content }) => {
      const entry = incidentEntrySchema.parse(content);
      return entry.kind === "flags" ? entry.flags : [];
    }),
    revisionCode: pack?.revision.code ?? null,
    lotCodes: pack?.lots.map(({ lot }) => lot.code) ?? [],
  }));
}

/** One incident; null where there is none or the person may not read it. */
export async function readIncident(actor: Actor, typed: string, now = new Date()): Promise<IncidentView | null> {
  const reference = readIncidentReference(typed);
  if (reference === null || !may(actor, "read-incidents")) return null;
  return asActor(actor, async (tx) => {
    const row = await tx.incident.findUnique({ where: { reference }, select: incidentSelect });
    if (row === null) return null;
    return incidentView(row, await readHolidays(tx), await readCountriesOfSale(tx, [row.packId]), now);
  });
}

/** Entries as they lie in the database, with what they hold read. */
export function entriesOf(rows: IncidentRow["entries"]): IncidentEntryRow[] {
  return rows.map(({ content, ...rest }) => ({ ...rest, content: incidentEntrySchema.parse(content) }));
}

function incidentView(
  row: IncidentRow,
  holidays: Awaited<ReturnType<typeof readHolidays>>,
  soldIn: ReadonlyMap<string, readonly string[]>,
  now: Date,
): IncidentView {
  const entries = entriesOf(row.entries);
  const state = foldIncident(entries, { set: reportingClocks, holidays, now }, soldIn.get(row.packId ?? ""));
  return {
    reference: row.reference,
    openedAt: row.openedAt,
    openedByName: row.openedByName,
    returnReference: row.return?.reference ?? null,
    pack:
      row.pack === null
        ? null
        : {
            serialShown: shownSerial(row.pack.serial),
            modelName: row.pack.revision.model.name,
            revisionCode: row.pack.revision.code,
            lotCodes: row.pack.lots.map(({ lot }) => lot.code),
          },
    dealer: row.dealer,
    state,
    entries,
    clocks: runClocks(
      reportingClocks,
      { firstKnownAt: state.firstKnown.at, countries: state.countries, determinedAt: state.determinedAt },
      holidays,
      now,
    ),
  };
}

/** When somebody has to decide next: at the end of a clock, or of the day until which more is investigated. */
function firstEnd({ clocks, state }: IncidentView, now: Date): number {
  const ends = clocks.map(({ clock, endsAt, state: runs }) => {
    const decided = state.decisions.get(clock.id);
    const standing = clockStanding(clock, decided, now);
    if (asksForDecision(standing)) return runs === "every-hour-counts" ? 0 : (endsAt?.getTime() ?? 9e15);
    const day = decided === undefined ? null : investigationEnd(clock, decided);
    return day?.getTime() ?? 9e15;
  });
  return Math.min(9e15, ...ends);
}

/** What a dealer or technician learns: that an incident is open on this return's pack, and no more. */
export async function openIncidentsOfReturn(actor: Actor, returnReference: string): Promise<readonly string[]> {
  return asActor(actor, async (tx) => {
    const rows = await tx.incident.findMany({
      where: { return: { reference: returnReference }, closing: null },
      select: { reference: true },
      orderBy: { openedAt: "asc" },
    });
    return rows.map(({ reference }) => reference);
  });
}
