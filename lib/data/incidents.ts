import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { foldIncident, type IncidentEntryRow, type IncidentState } from "@/lib/safety/fold-incident";
import { incidentEntrySchema } from "@/lib/safety/incident-entry.schema";
import { readIncidentReference } from "@/lib/safety/incident-reference";
import { findPatterns, type Pattern } from "@/lib/safety/pattern-flags";
import { reportingClocks } from "@/lib/safety/reporting-clocks";
import { type RunningClock, runClocks } from "@/lib/safety/run-clocks";
import type { Prisma } from "@/prisma/generated/client";
import { readHolidays } from "./clock-holidays";
import { asActor } from "./database";
import { shownSerial } from "./pack-words";

const incidentSelect = {
  reference: true,
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
  readonly serialShown: string;
  readonly modelName: string;
  readonly revisionCode: string;
  readonly lotCodes: readonly string[];
  readonly dealer: { readonly name: string; readonly town: string; readonly country: string } | null;
  readonly state: IncidentState;
  readonly entries: readonly IncidentEntryRow[];
  /** The most pressing first. */
  readonly clocks: readonly RunningClock[];
}

export interface IncidentsPage {
  readonly open: readonly IncidentView[];
  readonly closed: readonly IncidentView[];
  readonly patterns: readonly Pattern[];
}

/** Longer lists belong to a search, which this page is not. */
const LIST_LIMIT = 200;

/** Every incident with its clocks, the most pressing first, and what they have in common; null for other roles. */
export async function listIncidents(actor: Actor, now = new Date()): Promise<IncidentsPage | null> {
  if (!may(actor, "read-incidents")) return null;
  return asActor(actor, async (tx) => {
    const holidays = await readHolidays(tx);
    const rows = await tx.incident.findMany({
      select: incidentSelect,
      orderBy: { openedAt: "desc" },
      take: LIST_LIMIT,
    });
    const views = rows.map((row) => incidentView(row, holidays, now));
    const isOpen = ({ state }: IncidentView) => state.closed === null;
    return {
      open: views.filter(isOpen).sort((a, b) => firstEnd(a) - firstEnd(b)),
      closed: views.filter((view) => !isOpen(view)),
      patterns: findPatterns(
        views.map(({ reference, state, revisionCode, lotCodes }) => ({
          reference,
          flags: state.flags,
          revisionCode,
          lotCodes,
        })),
      ),
    };
  });
}

/** One incident; null where there is none or the person may not read it. */
export async function readIncident(actor: Actor, typed: string, now = new Date()): Promise<IncidentView | null> {
  const reference = readIncidentReference(typed);
  if (reference === null || !may(actor, "read-incidents")) return null;
  return asActor(actor, async (tx) => {
    const row = await tx.incident.findUnique({ where: { reference }, select: incidentSelect });
    return row === null ? null : incidentView(row, await readHolidays(tx), now);
  });
}

function incidentView(row: IncidentRow, holidays: Awaited<ReturnType<typeof readHolidays>>, now: Date): IncidentView {
  const entries = row.entries.map(({ content, ...rest }) => ({ ...rest, content: incidentEntrySchema.parse(content) }));
  const state = foldIncident(entries);
  const { revision, serial, lots } = row.pack;
  return {
    reference: row.reference,
    openedAt: row.openedAt,
    openedByName: row.openedByName,
    returnReference: row.return?.reference ?? null,
    serialShown: shownSerial(serial),
    modelName: revision.model.name,
    revisionCode: revision.code,
    lotCodes: lots.map(({ lot }) => lot.code),
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

function firstEnd({ clocks, state }: IncidentView): number {
  const undecided = clocks.filter(({ clock }) => !state.decisions.has(clock.id));
  const ends = undecided.map(({ endsAt, state: now }) =>
    now === "every-hour-counts" ? 0 : (endsAt?.getTime() ?? 9e15),
  );
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
