import "server-only";
import { z } from "zod";
import type { CostBook, SettledReturn } from "@/lib/reliability/cost-book";
import type { DecidedReturns } from "@/lib/reliability/cost-lines";
import type { DecidedOfModel } from "@/lib/reliability/failure-cost";
import { decidableRemedies, readDecidedRemedy } from "@/lib/returns/decision.schema";
import { type CostAssumption, costParts } from "@/lib/settlement/cost-assumption";
import type { ExchangeRate } from "@/lib/settlement/exchange";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { Prisma } from "@/prisma/generated/client";
import { fromDateColumn } from "./calendar-columns";
import type { Transaction } from "./database";
import { readEnvironment } from "./env";
import { decidedSql, standsSql } from "./returns-as-of";

/** What the cost of a failure is worked out from on a day: approved assumptions, rates, and what was settled. */
export async function readCostBook(tx: Transaction, on: CalendarDate): Promise<CostBook> {
  return {
    reportingCurrency: readEnvironment().reportingCurrency,
    on,
    assumptions: await readApprovedCosts(tx),
    rates: await readExchangeRates(tx),
    settled: await readSettledReturns(tx, on),
  };
}

const decidedSchema = z.object({
  model: z.string(),
  remedy: z.enum(decidableRemedies),
  country: z.string(),
  confirmed: z.boolean(),
  returns: z.number(),
});

/** Returns decided up to a day, by model: what failures lead to and where, and what came beside them. */
export async function readDecidedReturns(tx: Transaction, on: CalendarDate): Promise<Map<string, DecidedOfModel>> {
  const rows = await tx.$queryRaw<unknown[]>`
    SELECT m."code" AS "model", d."remedy", e."country", d."confirmedFailure" AS "confirmed", count(*)::int AS "returns"
    FROM "Return" t JOIN ${decidedSql(Prisma.sql`${on}::date`)} d ON d."returnId" = t."id" JOIN "Dealer" e ON e."id" = t."dealerId"
      JOIN "Pack" p ON p."id" = t."packId" JOIN "Revision" r ON r."id" = p."revisionId" JOIN "PackModel" m ON m."id" = r."modelId"
    WHERE ${standsSql(Prisma.sql`${on}::date`)}
    GROUP BY m."code", d."remedy", e."country", d."confirmedFailure" ORDER BY m."code", d."remedy", e."country"`;
  const byModel = new Map<string, { failures: DecidedReturns[]; others: DecidedReturns[] }>();
  for (const row of rows) {
    const { model, confirmed, ...decided } = decidedSchema.parse(row);
    const known = byModel.get(model) ?? { failures: [], others: [] };
    byModel.set(model, known);
    (confirmed ? known.failures : known.others).push(decided);
  }
  return byModel;
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

/** What dealers are paid for each decided return, reversals taken off; a return reversed to nothing is left out. */
async function readSettledReturns(tx: Transaction, on: CalendarDate): Promise<SettledReturn[]> {
  const rows = await tx.$queryRaw<unknown[]>`
    SELECT d."remedy", e."country", d."confirmedFailure" AS "confirmed", l."currency", sum(l."amountMinor")::int AS "amountMinor"
    FROM "SettlementLine" l JOIN "Return" t ON t."id" = l."returnId" JOIN "Decision" d ON d."id" = t."decisionId"
      JOIN "Dealer" e ON e."id" = t."dealerId"
    WHERE l."state" IN ('approved', 'in-statement', 'paid')
      AND (l."claimedAt" AT TIME ZONE 'UTC')::date <= ${on}::date
    GROUP BY t."id", d."remedy", e."country", d."confirmedFailure", l."currency" HAVING sum(l."amountMinor") > 0`;
  return rows.map((row) => settledSchema.parse(row));
}
