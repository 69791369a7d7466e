import "server-only";
import { z } from "zod";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { foretell } from "@/lib/reliability/foretell";
import { keptBasisSchema, keptCostSchema } from "@/lib/reliability/kept-forecast.schema";
import { meanLagDays, reportingOf } from "@/lib/reliability/reporting-lag";
import { costKept, type RolledAgainOfAll, rollAgain } from "@/lib/reliability/roll-again";
import { type Arisen, type BothLimits, type RollForward, rollForward } from "@/lib/reliability/roll-forward";
import { costLimitsOf, type TotalLimits, totalLimits } from "@/lib/reliability/roll-limits";
import { convert } from "@/lib/settlement/exchange";
import { type CalendarDate, daysBetween } from "@/lib/warranty/calendar";
import { fromDateColumn, toDateColumn } from "../calendar-columns";
import { asActor, type Transaction } from "../database";
import { type CoverEnds, readCoverEnds } from "../warranty/cover-ends";
import { readExchangeRates } from "./cost-book";
import { readForecastFacts, readRunning } from "./failure-forecasts";
import { lifeSql } from "./life-sql";
import { arisenSql, cameBackSql, failedAgainSql } from "./since-sql";

export interface RevisionRollForward extends RollForward {
  readonly group: string;
  /** There was no such revision when the forecast was kept. */
  readonly isNew: boolean;
  /** 95 % limits of the opening and of the closing cost. */
  readonly costLimits: BothLimits;
  /** Paid to dealers since, on any return of the revision; a sentence where a currency has no rate. */
  readonly paid: { readonly amountMinor: number } | { readonly sentence: string };
}

export interface RollForwardPage {
  readonly from: CalendarDate;
  readonly to: CalendarDate;
  readonly days: number;
  readonly meanLagDays: number;
  readonly keptByName: string;
  readonly currency: string;
  readonly countingRules: string;
  readonly forecastRules: string;
  /** Costs are told in another currency today, so no cost is carried forward. */
  readonly currencyChanged: boolean;
  readonly revisions: readonly RevisionRollForward[];
  /** 95 % limits of all revisions that can be told together, at both ends. */
  readonly totalLimits: TotalLimits;
  /** Packs put right that ran again then, or do today: beside the reserve. Null where there was none. */
  readonly again: RolledAgainOfAll | null;
}

/**
 * A kept forecast held against what happened up to a day, computed when the transaction has ended. Null where the person may not ask
 * or nothing was kept then.
 */
export async function readRollForward(
  actor: Actor,
  from: CalendarDate,
  to: CalendarDate,
): Promise<RollForwardPage | null> {
  if (!may(actor, "read-forecast")) return null;
  const facts = await asActor(actor, (tx) => readRollFacts(tx, from, to));
  return facts === null ? null : rolledPage(facts, from, to);
}

type RollFacts = NonNullable<Awaited<ReturnType<typeof readRollFacts>>>;

async function readRollFacts(tx: Transaction, from: CalendarDate, to: CalendarDate) {
  const kept = await tx.forecast.findUnique({
    where: { dataDate: toDateColumn(from) },
    select: {
      dataDate: true,
      keptByName: true,
      currency: true,
      countingRules: true,
      forecastRules: true,
      lines: {
        where: { horizon: "cover-end" },
        select: { revisionId: true, lower: true, upper: true, costLower: true, costUpper: true },
      },
      revisions: {
        select: { basis: true, cost: true, revisionId: true, revision: { select: { code: true } } },
        orderBy: { revision: { code: "asc" } },
      },
    },
  });
  if (kept === null) return null;
  const today = await readForecastFacts(tx, to);
  const ends = await readCoverEnds(tx, to);
  return {
    kept,
    today,
    soldSince: await readRunning(tx, ends, { soldAfter: from }),
    arisen: await readArisen(tx, ends, from),
    cameBack: await readCameBack(tx, ends, from),
    failedAgain: await readFailedAgain(tx, ends, from),
    paid: await readPaid(tx, from, to, kept.currency),
  };
}

/** What was kept of one revision; `opening` null where there was no such revision then. */
function openingsOf({ revisions }: RollFacts["kept"]) {
  return new Map(
    revisions.map(({ revision, revisionId, basis, cost }) => [
      revision.code,
      { revisionId, opening: keptBasisSchema.parse(basis), cost: cost == null ? null : keptCostSchema.parse(cost) },
    ]),
  );
}

function rolledPage(facts: RollFacts, from: CalendarDate, to: CalendarDate): RollForwardPage {
  const { kept, soldSince, arisen, cameBack, failedAgain, paid } = facts;
  const today = foretell(facts.today);
  const openings = openingsOf(kept);
  const days = daysBetween(from, to);
  const lagDays = meanLagDays(reportingOf(today.lag));
  const currencyChanged = today.currency !== kept.currency;
  const { keptByName, currency, countingRules, forecastRules } = kept;
  return {
    ...{ from: fromDateColumn(kept.dataDate), to, days, meanLagDays: lagDays, currencyChanged },
    ...{ keptByName, currency, countingRules, forecastRules },
    again: rollAgain(
      today.revisions.map(({ group, cost: costNow }, i) => {
        const then = openings.get(group);
        return {
          ...{ group, costNow, came: failedAgain.get(group) ?? 0 },
          // Of a revision that there was not, no pack ran again.
          opening: then === undefined ? null : then.opening.again,
          closing: today.beside[i]?.again?.basis ?? null,
          costThen: costKept(then?.cost ?? null, kept.currency),
        };
      }),
    ),
    totalLimits: totalLimits(kept.lines, today.revisions, currencyChanged),
    // All of today: what there was then is among them, because no revision ever goes.
    revisions: today.revisions.map((closing) => {
      const { group: code } = closing;
      const then = openings.get(code);
      const rolled = rollForward({
        opening: then?.opening ?? null,
        openingReturns: then?.opening.returns ?? null,
        cameBack: cameBack.get(code) ?? 0,
        openingMean: currencyChanged ? null : (then?.cost?.mean ?? null),
        closing: closing.basis,
        closingMean: currencyChanged || closing.cost.kind === "unknown" ? null : closing.cost.mean,
        soldSince: soldSince.get(code) ?? [],
        arisen: arisen.get(code) ?? { confirmed: 0, undecided: 0 },
        days,
        meanLagDays: lagDays,
      });
      const line = kept.lines.find((one) => one.revisionId === then?.revisionId);
      const costLimits = {
        opening: costLimitsOf(line),
        closing: currencyChanged ? null : closing.costs["cover-end"],
      };
      return {
        ...{ group: code, isNew: then === undefined, ...rolled, costLimits },
        paid: paid.get(code) ?? { amountMinor: 0 },
      };
    }),
  };
}

/** The same for a file that leaves the house. */
export async function exportRollForward(
  actor: Actor,
  from: CalendarDate,
  to: CalendarDate,
): Promise<RollForwardPage | null> {
  return may(actor, "export-forecast") ? readRollForward(actor, from, to) : null;
}

const arisenSchema = z.object({ grp: z.string(), confirmed: z.number(), undecided: z.number() });

/** What reached us since of the packs the forecast was about. */
async function readArisen(tx: Transaction, ends: CoverEnds, from: CalendarDate): Promise<Map<string, Arisen>> {
  const rows = await tx.$queryRaw<unknown[]>`${lifeSql(ends, { by: "revision", within: "model" })}
    SELECT "grp", count(*) FILTER (WHERE "status" = 'failed')::int AS "confirmed",
      count(*) FILTER (WHERE "status" = 'undecided')::int AS "undecided"
    FROM "confirmed_life" l WHERE ${arisenSql(from, "failed")} OR ${arisenSql(from, "undecided")}
    GROUP BY "grp"`;
  return new Map(
    rows.map((row) => {
      const { grp, ...arisen } = arisenSchema.parse(row);
      return [grp, arisen];
    }),
  );
}

/** Packs the forecast was about whose first return reached us since, whatever came of it. */
async function readCameBack(tx: Transaction, ends: CoverEnds, from: CalendarDate): Promise<Map<string, number>> {
  return countPacks(
    await tx.$queryRaw<unknown[]>`${lifeSql(ends, { by: "revision", within: "model" })}
    SELECT l."grp", count(*)::int AS "packs" FROM "any_life" l
    WHERE ${cameBackSql(from)} GROUP BY l."grp"`,
  );
}

/** Packs that ran again then after they were put right, and failed once more since. */
async function readFailedAgain(tx: Transaction, ends: CoverEnds, from: CalendarDate): Promise<Map<string, number>> {
  return countPacks(
    await tx.$queryRaw<unknown[]>`${lifeSql(ends, { by: "revision", within: "model" })}
    SELECT l."grp", count(*)::int AS "packs" FROM "confirmed_life" l
    WHERE ${failedAgainSql(from, ends)} GROUP BY l."grp"`,
  );
}

function countPacks(rows: readonly unknown[]): Map<string, number> {
  const rowSchema = z.object({ grp: z.string(), packs: z.number() });
  return new Map(rows.map((row) => rowSchema.parse(row)).map(({ grp, packs }) => [grp, packs]));
}

const paidSchema = z.object({ grp: z.string(), currency: z.string(), amountMinor: z.number() });

async function readPaid(tx: Transaction, from: CalendarDate, to: CalendarDate, into: string) {
  const rows = await tx.$queryRaw<unknown[]>`
    SELECT r."code" AS "grp", l."currency", sum(y."amountMinor")::float8 AS "amountMinor"
    FROM "SettlementPayment" y JOIN "SettlementLine" l ON l."id" = y."lineId" JOIN "Return" t ON t."id" = l."returnId"
      JOIN "Pack" p ON p."id" = t."packId" JOIN "Revision" r ON r."id" = p."revisionId"
    WHERE (y."paidAt" AT TIME ZONE 'UTC')::date > ${from}::date AND (y."paidAt" AT TIME ZONE 'UTC')::date <= ${to}::date
    GROUP BY r."code", l."currency"`;
  const rates = await readExchangeRates(tx);
  const byRevision = new Map<string, RevisionRollForward["paid"]>();
  for (const row of rows) {
    const { grp, currency, amountMinor } = paidSchema.parse(row);
    const converted = convert(amountMinor, currency, into, to, rates);
    const before = byRevision.get(grp) ?? { amountMinor: 0 };
    if ("sentence" in before) continue;
    if (converted.kind === "no-rate") byRevision.set(grp, { sentence: converted.sentence });
    else byRevision.set(grp, { amountMinor: before.amountMinor + converted.amountMinor });
  }
  return byRevision;
}
