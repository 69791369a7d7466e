import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type GroupReport, groupReports } from "@/lib/reliability/group-report";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { fromDateColumn } from "./calendar-columns";
import { asActor, type Transaction } from "./database";
import { readLifeTable } from "./life-cells";
import { type RevisionChange, readChanges } from "./pack-facts";
import { readPolicies } from "./policy-columns";

export interface RevisionLine extends GroupReport {
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
    const revisions = await readRevisions(tx);
    const table = await readLifeTable(tx, { dataDate, by: "revision", within: "model" }, await readPolicies(tx));
    const reports = groupReports(
      revisions.map(({ code }) => code),
      table,
    );
    const lines = reports.map((report) => {
      const revision = revisions.find(({ code }) => code === report.group);
      if (revision === undefined) throw new Error(`No revision ${report.group}`);
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

function readRevisions(tx: Transaction) {
  return tx.revision.findMany({
    select: { code: true, introducedOn: true, supersededOn: true, changes: true, model: { select: { name: true } } },
    orderBy: [{ model: { code: "asc" } }, { ordinal: "asc" }],
  });
}
