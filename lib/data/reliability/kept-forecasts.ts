import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import type { BesideForecast } from "@/lib/reliability/beside-forecast";
import type { ForetoldCost } from "@/lib/reliability/cost-forecast";
import { countAt, type Horizon, horizons } from "@/lib/reliability/forecast-horizon";
import { totalForecast } from "@/lib/reliability/forecast-total";
import { foretell } from "@/lib/reliability/foretell";
import { keptBasisSchema, keptCostSchema } from "@/lib/reliability/kept-forecast.schema";
import { type PricedForecast, totalCost } from "@/lib/reliability/priced-forecast";
import { COUNTING_RULES_VERSION, FORECAST_RULES_VERSION } from "@/lib/reliability/rule-version";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { fromDateColumn, toDateColumn } from "../calendar-columns";
import { asActor } from "../database";
import { breaksUnique } from "../unique-violation";
import { readForecastFacts } from "./failure-forecasts";

export type KeepAnswer =
  | { readonly ok: true; readonly dataDate: CalendarDate }
  | { readonly ok: false; readonly reason: "not-allowed" | "kept-already"; readonly sentence: string };

/** Keeps the forecast of this day as it stands, once a day; nothing of it is ever changed. */
export async function keepForecast(actor: Actor, now = new Date()): Promise<KeepAnswer> {
  if (!may(actor, "keep-forecast"))
    return { ok: false, reason: "not-allowed", sentence: "A forecast is kept by a manager." };
  const dataDate = civilDateAt(now, "UTC");
  try {
    const { facts, ids } = await asActor(actor, async (tx) => ({
      facts: await readForecastFacts(tx, dataDate),
      ids: new Map((await tx.revision.findMany({ select: { id: true, code: true } })).map((r) => [r.code, r.id])),
    }));
    const { revisions, beside, currency } = foretell(facts);
    const idOf = (code: string) => ids.get(code) ?? null;
    await asActor(actor, (tx) =>
      tx.forecast.create({
        data: {
          dataDate: toDateColumn(dataDate),
          countingRules: COUNTING_RULES_VERSION,
          forecastRules: FORECAST_RULES_VERSION,
          currency,
          keptAt: now,
          keptByUserId: actor.userId,
          keptByName: actor.name,
          revisions: { create: revisions.map((one, i) => revisionRow(one, beside[i], idOf(one.group))) },
          lines: {
            create: [
              ...revisions.flatMap((one) => horizons.map((horizon) => lineRow(one, horizon, idOf(one.group)))),
              ...horizons.map((horizon) => totalRow(revisions, horizon)),
            ],
          },
        },
        select: { id: true },
      }),
    );
    return { ok: true, dataDate };
  } catch (error) {
    if (!breaksUnique(error, "Forecast_dataDate_key")) throw error;
    return { ok: false, reason: "kept-already", sentence: "The forecast of today is kept already." };
  }
}

function revisionRow(
  { group, packsUnderCover, failures, basis, cost }: PricedForecast,
  beside: BesideForecast | undefined,
  revisionId: string | null,
) {
  if (revisionId === null) throw new RangeError(`revision ${group} is gone`);
  return {
    revisionId,
    packsUnderCover,
    failures,
    // Parsed before it is written, so that what is kept is what can be read back, and no more.
    basis: keptBasisSchema.parse({
      ...{ ...basis, returns: beside?.returns.basis },
      ...(beside === undefined ? {} : { again: beside.again?.basis ?? null }),
    }),
    ...(cost.kind === "cost" ? { cost: keptCostSchema.parse(cost) } : {}),
  };
}

function lineRow(one: PricedForecast, horizon: Horizon, revisionId: string | null) {
  const count = countAt(one, horizon);
  if (count !== null) return { revisionId, ...countColumns(horizon, count), ...costColumns(one.costs[horizon]) };
  const refused = horizon === "cover-end" ? one.reserve : one.forecasts.find(({ months }) => months === horizon);
  return { revisionId, horizon: String(horizon), refusal: refused?.kind === "refused" ? refused.reason : "unknown" };
}

function totalRow(revisions: readonly PricedForecast[], horizon: Horizon) {
  const total = totalForecast(revisions, horizon);
  if (total === null) return { horizon: String(horizon), refusal: "no-revision-foretold" };
  return { ...countColumns(horizon, total), ...costColumns(totalCost(revisions, horizon)) };
}

function countColumns(
  horizon: Horizon,
  { expected, lower, upper }: { expected: number; lower: number; upper: number },
) {
  return { horizon: String(horizon), expected, lower, upper };
}

function costColumns(cost: ForetoldCost | null) {
  return cost === null ? {} : { costMean: cost.expected, costLower: cost.lower, costUpper: cost.upper };
}

export interface KeptForecast {
  readonly dataDate: CalendarDate;
  readonly keptAt: Date;
  readonly keptByName: string;
  readonly currency: string;
  readonly countingRules: string;
  readonly forecastRules: string;
  /** Until the end of cover, all revisions that could be told together; null where none could. */
  readonly total: { readonly expected: number; readonly lower: number; readonly upper: number } | null;
  readonly cost: ForetoldCost | null;
}

/** Forecasts kept, the newest first. Null where the person may not ask. */
export async function listKeptForecasts(actor: Actor): Promise<KeptForecast[] | null> {
  if (!may(actor, "read-forecast")) return null;
  const rows = await asActor(actor, (tx) =>
    tx.forecast.findMany({
      select: {
        dataDate: true,
        keptAt: true,
        keptByName: true,
        currency: true,
        countingRules: true,
        forecastRules: true,
        lines: {
          where: { revisionId: null, horizon: "cover-end" },
          select: { expected: true, lower: true, upper: true, costMean: true, costLower: true, costUpper: true },
        },
      },
      orderBy: { dataDate: "desc" },
    }),
  );
  return rows.map(({ dataDate, lines: [line], ...row }) => {
    const { expected, lower, upper, costMean, costLower, costUpper } = line ?? {};
    return {
      ...row,
      dataDate: fromDateColumn(dataDate),
      total: expected == null || lower == null || upper == null ? null : { expected, lower, upper },
      cost:
        costMean == null || costLower == null || costUpper == null
          ? null
          : { currency: row.currency, expected: costMean, lower: costLower, upper: costUpper },
    };
  });
}
