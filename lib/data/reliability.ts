import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import type { UnitHistory } from "@/lib/reliability/first-event";
import { type RevisionReport, type RevisionVolume, revisionReports } from "@/lib/reliability/revision-report";
import type { EqualPacks } from "@/lib/reliability/revision-tally";
import type { CalendarDate } from "@/lib/warranty/calendar";
import type { WarrantyPolicy } from "@/lib/warranty/policy.schema";
import type { Prisma } from "@/prisma/generated/client";
import { fromDateColumn, fromOptionalDateColumn } from "./calendar-columns";
import { type ChainLinks, coveredPack, lastCoveredDay, readChainLinks, startSelect } from "./cover-ends";
import { asActor, type Transaction } from "./database";
import { type RevisionChange, readChanges } from "./pack-facts";
import { readPolicies } from "./policy-columns";

export interface RevisionLine extends RevisionReport {
  readonly modelName: string;
  readonly introducedOn: string;
  readonly current: boolean;
  readonly changes: readonly RevisionChange[];
}

export interface ReliabilityPage {
  /** Nothing told after this day is counted. */
  readonly dataDate: string;
  readonly lines: readonly RevisionLine[];
}

/** Failure probability per revision at equal age, from sales, returns, decisions and replacements up to the data date. */
export async function readReliability(actor: Actor, dataDate: CalendarDate): Promise<ReliabilityPage | null> {
  if (!may(actor, "read-reliability")) return null;
  return asActor(actor, async (tx) => {
    const policies = await readPolicies(tx);
    const revisions = await tx.revision.findMany({
      select: { code: true, introducedOn: true, supersededOn: true, changes: true, model: { select: { name: true } } },
      orderBy: [{ model: { code: "asc" } }, { ordinal: "asc" }],
    });
    const reports = revisionReports(
      await readVolumes(tx, revisions),
      await readReturnedPacks(tx, dataDate, policies),
      await readPacksWithoutReturn(tx, dataDate, policies),
    );
    const lines = reports.map((report) => {
      const revision = revisions.find(({ code }) => code === report.revisionCode);
      if (revision === undefined) throw new Error(`No revision ${report.revisionCode}`);
      return {
        ...report,
        modelName: revision.model.name,
        introducedOn: fromDateColumn(revision.introducedOn),
        current: revision.supersededOn === null,
        changes: readChanges(revision.changes),
      };
    });
    return { dataDate, lines };
  });
}

/** The same for a file that leaves the house: asked for as an act of its own. */
export async function exportReliability(actor: Actor, dataDate: CalendarDate): Promise<ReliabilityPage | null> {
  return may(actor, "export-reliability") ? readReliability(actor, dataDate) : null;
}

async function readVolumes(tx: Transaction, revisions: readonly { code: string }[]): Promise<RevisionVolume[]> {
  const rows = await tx.$queryRaw<{ code: string; built: bigint; dispatched: bigint }[]>`
    SELECT r."code", count(*) AS built, count(p."dispatchedOn") AS dispatched
    FROM "Pack" p JOIN "Revision" r ON r."id" = p."revisionId" GROUP BY r."code"`;
  return revisions.map(({ code }) => {
    const row = rows.find((found) => found.code === code);
    return { revisionCode: code, packsBuilt: Number(row?.built ?? 0), packsDispatched: Number(row?.dispatched ?? 0) };
  });
}

/** Packs that never came back, counted by equal dates in the database: their number does not matter to the cost after. */
async function readPacksWithoutReturn(
  tx: Transaction,
  dataDate: CalendarDate,
  policies: readonly WarrantyPolicy[],
): Promise<EqualPacks[]> {
  const rows = await tx.$queryRaw<{ code: string; soldOn: Date | null; observedFrom: Date | null; packs: bigint }[]>`
    SELECT r."code", s."soldOn", s."underObservationFrom" AS "observedFrom", count(*) AS packs
    FROM "Pack" p JOIN "Revision" r ON r."id" = p."revisionId"
      LEFT JOIN "Sale" s ON s."packId" = p."id"
    WHERE NOT EXISTS (SELECT 1 FROM "Return" t WHERE t."packId" = p."id" AND t."status" <> 'withdrawn')
      AND NOT EXISTS (SELECT 1 FROM "Replacement" x WHERE p."id" IN (x."oldPackId", x."newPackId"))
    GROUP BY r."code", s."soldOn", s."underObservationFrom"`;
  const endBySale = new Map<CalendarDate, CalendarDate | null>();
  // Neither evidence nor dispatch is grouped by: with a sale on record and no replacement, the day of sale alone decides.
  const coverEnd = (soldOn: CalendarDate) => {
    const known = endBySale.get(soldOn);
    if (known !== undefined) return known;
    const pack = { builtOn: soldOn, start: { deliveryReceiptOn: soldOn }, replacements: [] };
    const end = lastCoveredDay(pack, dataDate, policies);
    endBySale.set(soldOn, end);
    return end;
  };
  return rows.map(({ code, soldOn, observedFrom, packs }) => {
    const sold = fromOptionalDateColumn(soldOn);
    return {
      revisionCode: code,
      soldOn: sold,
      underObservationFrom: fromOptionalDateColumn(observedFrom),
      dataDate,
      failure: null,
      openReturnToldOn: null,
      replacedOn: null,
      coverEndsOn: sold === null ? null : coverEnd(sold),
      packs: Number(packs),
    };
  });
}

const historySelect = {
  ...startSelect,
  id: true,
  serial: true,
  revision: { select: { code: true } },
  sale: { select: { ...startSelect.sale.select, underObservationFrom: true } },
  replacedBy: { select: { deliveredOn: true } },
  replaces: { select: { deliveredOn: true } },
  returns: {
    where: { status: { not: "withdrawn" } },
    select: { toldOn: true, status: true, decision: { select: { confirmedFailure: true } } },
    orderBy: { toldOn: "asc" },
  },
} as const satisfies Prisma.PackSelect;

type HistoryRow = Prisma.PackGetPayload<{ select: typeof historySelect }>;

/** Packs that came back, replaced another or were replaced, of one revision or of all: one by one, with what was decided. */
export async function readReturnedPacks(
  tx: Transaction,
  dataDate: CalendarDate,
  policies: readonly WarrantyPolicy[],
  revisionCode?: string,
): Promise<UnitHistory[]> {
  const packs = await tx.pack.findMany({
    where: {
      ...(revisionCode === undefined ? {} : { revision: { code: revisionCode } }),
      OR: [
        { returns: { some: { status: { not: "withdrawn" } } } },
        { replacedBy: { isNot: null } },
        { replaces: { isNot: null } },
      ],
    },
    select: historySelect,
  });
  const links = await readChainLinks(tx);
  return packs.map((pack) => historyOf(pack, links, dataDate, policies));
}

function historyOf(
  pack: HistoryRow,
  links: ChainLinks,
  dataDate: CalendarDate,
  policies: readonly WarrantyPolicy[],
): UnitHistory {
  const soldOn = firstUse(pack);
  const decided = pack.returns.filter(({ decision }) => decision !== null);
  const failed = decided.find(({ decision }) => decision?.confirmedFailure) ?? decided[0];
  const open = pack.returns.find(({ decision }) => decision === null);
  return {
    serial: pack.serial,
    revisionCode: pack.revision.code,
    soldOn,
    underObservationFrom: fromOptionalDateColumn(pack.sale?.underObservationFrom ?? null),
    dataDate,
    failure:
      failed === undefined
        ? null
        : { toldOn: fromDateColumn(failed.toldOn), confirmed: failed.decision?.confirmedFailure ?? false },
    openReturnToldOn: open === undefined ? null : fromDateColumn(open.toldOn),
    replacedOn: fromOptionalDateColumn(pack.replacedBy?.deliveredOn ?? null),
    coverEndsOn: soldOn === null ? null : lastCoveredDay(coveredPack(pack, links), dataDate, policies),
  };
}

/** A replacement is a new unit of age 0 on the day it reached the customer. */
function firstUse(pack: HistoryRow): CalendarDate | null {
  return fromOptionalDateColumn(pack.sale?.soldOn ?? pack.replaces?.deliveredOn ?? null);
}
