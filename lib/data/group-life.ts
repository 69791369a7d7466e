import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import type { CompareBy } from "@/lib/reliability/compare-by";
import { type GroupLife, groupLife } from "@/lib/reliability/group-life";
import { countCells } from "@/lib/reliability/life-cell";
import { knownAtOnce, type ReportingLag, reportingLag } from "@/lib/reliability/reporting-lag";
import { type WeibullPlot, weibullPlot } from "@/lib/reliability/weibull-plot";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { asActor } from "./database";
import { readLifeTable } from "./life-cells";
import { readPolicies } from "./policy-columns";
import { readReportingLags } from "./reporting-lags";

export interface GroupLifePage extends GroupLife {
  readonly lag: ReportingLag | null;
  readonly plot: WeibullPlot;
}

/** What more can be said of one group; null for whoever may not read failure rates. */
export async function readGroupLife(
  actor: Actor,
  dataDate: CalendarDate,
  asked: { readonly by: CompareBy; readonly group: string },
): Promise<GroupLifePage | null> {
  if (!may(actor, "read-reliability")) return null;
  return asActor(actor, async (tx) => {
    const lag = reportingLag(await readReportingLags(tx, dataDate));
    const { cells } = await readLifeTable(tx, { dataDate, by: asked.by, within: "model" }, await readPolicies(tx));
    const own = cells.filter(({ group }) => group === asked.group);
    const strata = new Set(own.map(({ stratum }) => stratum));
    const likes = cells.filter(({ group, stratum }) => group !== asked.group && strata.has(stratum));
    return {
      ...groupLife(own, likes, lag?.reporting ?? knownAtOnce),
      lag,
      plot: weibullPlot(countCells(own, "confirmed")),
    };
  });
}
