import "server-only";
import { z } from "zod";
import type { CostBook, SettledReturn } from "@/lib/reliability/cost-book";
import { countReturns } from "@/lib/reliability/cost-lines";
import { type DecidedOfRevision, decidedAlike } from "@/lib/reliability/decided-alike";
import { type FailureCost, failureCost } from "@/lib/reliability/failure-cost";
import { decidableRemedies, readDecidedRemedy } from "@/lib/returns/decision.schema";
import { type CostAssumption, costParts } from "@/lib/settlement/cost-assumption";
import type { ExchangeRate } from "@/lib/settlement/exchange";
import { Prisma } from "@/prisma/generated/client";
import { fromDateColumn } from "../calendar-columns";
import type { Transaction } from "../database";
import { readEnvironment } from "../env";
import type { CoverEnds } from "../warranty/cover-ends";
import { perPackSql } from "./life-sql";
import { decidedSql, standsSql } from "./returns-as-of";

/** What the cost of a failure is worked out from on the day of these ends of cover: approved assumptions, rates, and what was settled. */
export async function readCostBook(tx: Transaction, ends: CoverEnds): Promise<CostBook> {
  const on = ends.dataDate;
  return {
    reportingCurrency: readEnvironment().reportingCurrency,
    on,
    assumptions: await readApprovedCosts(tx),
    rates: await readExchangeRates(tx),
    settled: await readSettledReturns(tx, ends),
  };
}

/** What one failure of a revision costs. */
export interface RevisionCost {
  readonly revision: string;
  readonly model: string;
  readonly cost: FailureCost;
}

/** What one failure of each revision costs, from what was decided within cover by the day the ends of cover are of. */
export async function readRevisionCosts(tx: Transaction, ends: CoverEnds, book: CostBook): Promise<RevisionCost[]> {
  const decided = await readDecidedReturns(tx, ends);
  return decided.map((of) => ({
    revision: of.revision,
    model: of.model,
    cost: failureCost(of.model, decidedAlike(of, decided), book),
  }));
}

const decidedSchema = z.object({
  revision: z.string(),
  remedy: z.enum(decidableRemedies),
  country: z.string(),
  confirmed: z.boolean(),
  covered: z.boolean(),
  returns: z.number(),
});

/** Returns decided up to a day, by revision: what failures led to and where, what came beside them, and how many came after cover. */
export async function readDecidedReturns(tx: Transaction, ends: CoverEnds): Promise<DecidedOfRevision[]> {
  const on = Prisma.sql`${ends.dataDate}::date`;
  const rows = await tx.$queryRaw<unknown[]>`${returnedLifeSql(ends)}
    SELECT l."revision", d."remedy", e."country", d."confirmedFailure" AS "confirmed", ${coveredSql(ends)} AS "covered", count(*)::int AS "returns"
    FROM "Return" t JOIN ${decidedSql(on)} d ON d."returnId" = t."id" JOIN "Dealer" e ON e."id" = t."dealerId"
      JOIN "life" l ON l."id" = t."packId"
    WHERE ${standsSql(on)}
    GROUP BY 1, 2, 3, 4, 5 ORDER BY 1, 2, 3, 4, 5`;
  const decided = z.array(decidedSchema).parse(rows);
  const revisions = await tx.revision.findMany({
    select: { code: true, potted: true, cellsRepairable: true, model: { select: { code: true } } },
    orderBy: [{ model: { code: "asc" } }, { ordinal: "asc" }],
  });
  return revisions.map(({ code, model, ...build }) => {
    const own = decided.filter(({ revision }) => revision === code);
    const covered = (isFailure: boolean) =>
      own
        .filter((one) => one.covered && one.confirmed === isFailure)
        .map(({ remedy, country, returns }) => ({ remedy, country, returns }));
    return {
      ...{ revision: code, model: model.code, ...build },
      failures: covered(true),
      others: covered(false),
      afterCover: countReturns(own.filter((one) => !one.covered)),
    };
  });
}

/** `life` of the packs that ever came back, with their revision. */
function returnedLifeSql(ends: CoverEnds): Prisma.Sql {
  return perPackSql(ends, {
    labels: Prisma.sql`r."code" AS "revision"`,
    joins: Prisma.empty,
    only: Prisma.sql`WHERE p."id" IN (SELECT "packId" FROM "Return")`,
  });
}

/** Whether a return `t` was told within the cover of its pack `l`, as lives count it. */
function coveredSql({ dataDate }: CoverEnds): Prisma.Sql {
  return Prisma.sql`coalesce(t."toldOn" <= ${dataDate}::date + l."cover_left", true)`;
}

/** What an assumption is made of; `toAssumption` reads a row of it. */
export const assumptionSelect = {
  id: true,
  part: true,
  remedy: true,
  modelCode: true,
  country: true,
  currency: true,
  meanMinor: true,
  spreadMinor: true,
  errorMinor: true,
  cases: true,
  validFrom: true,
} as const satisfies Prisma.CostAssumptionSelect;

async function readApprovedCosts(tx: Transaction): Promise<CostAssumption[]> {
  const rows = await tx.costAssumption.findMany({
    where: { state: "approved" },
    select: assumptionSelect,
    orderBy: { validFrom: "asc" },
  });
  return rows.map(toAssumption);
}

export function toAssumption({
  part,
  remedy,
  modelCode,
  validFrom,
  ...row
}: Omit<CostAssumption, "part" | "remedy" | "model" | "validFrom"> & {
  readonly part: string;
  readonly remedy: string;
  readonly modelCode: string | null;
  readonly validFrom: Date;
}): CostAssumption {
  const knownPart = costParts.find((one) => one === part);
  const knownRemedy = readDecidedRemedy(remedy);
  if (knownPart === undefined || knownRemedy === null) throw new RangeError(`cost of ${part} for ${remedy} is unknown`);
  return { ...row, part: knownPart, remedy: knownRemedy, model: modelCode, validFrom: fromDateColumn(validFrom) };
}

export async function readExchangeRates(tx: Transaction): Promise<ExchangeRate[]> {
  const rows = await tx.exchangeRate.findMany({
    select: { currency: true, into: true, rate: true, validFrom: true },
    orderBy: [{ currency: "asc" }, { validFrom: "desc" }],
  });
  return rows.map(({ validFrom, ...row }) => ({ ...row, validFrom: fromDateColumn(validFrom) }));
}

const settledSchema = z.object({
  remedy: z.enum(decidableRemedies),
  country: z.string(),
  confirmed: z.boolean(),
  currency: z.string(),
  amountMinor: z.number(),
});

/**
 * What dealers are paid for each return within cover that was decided, reversals taken off; a return reversed to nothing is left
 * out, and one of which something is still being looked at, because it would count as cheaper than it will be.
 */
async function readSettledReturns(tx: Transaction, ends: CoverEnds): Promise<SettledReturn[]> {
  const rows = await tx.$queryRaw<unknown[]>`${returnedLifeSql(ends)}
    SELECT d."remedy", e."country", d."confirmedFailure" AS "confirmed", y."currency", sum(y."amountMinor")::float8 AS "amountMinor"
    FROM "SettlementLine" y JOIN "Return" t ON t."id" = y."returnId" JOIN "Decision" d ON d."id" = t."decisionId"
      JOIN "Dealer" e ON e."id" = t."dealerId" JOIN "life" l ON l."id" = t."packId"
    WHERE y."state" <> 'refused' AND (y."claimedAt" AT TIME ZONE 'UTC')::date <= ${ends.dataDate}::date AND ${coveredSql(ends)}
    GROUP BY t."id", d."remedy", e."country", d."confirmedFailure", y."currency"
    HAVING sum(y."amountMinor") > 0 AND bool_and(y."state" IN ('approved', 'in-statement', 'paid'))`;
  return rows.map((row) => settledSchema.parse(row));
}
