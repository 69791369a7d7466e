import "server-only";
import type { z } from "zod";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import type { rateEndSchema, rateSchema } from "@/lib/settlement/claim.schema";
import {
  endsAnything,
  type Rate,
  type RateEnd,
  type RateKind,
  rateKinds,
  untilOf,
  whyNoSecondCurrency,
} from "@/lib/settlement/rates";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { fromDateColumn, toDateColumn } from "../calendar-columns";
import { asActor, type Transaction } from "../database";
import { breaksUnique } from "../unique-violation";

/** A rate with the day on which it no longer holds; null while nothing ended or followed it, not after its first where it never held. */
export type RateView = Rate & { readonly until: CalendarDate | null };

export async function listRates(actor: Actor): Promise<RateView[]> {
  if (!may(actor, "read-money") && !may(actor, "set-rates")) return [];
  return asActor(actor, async (tx) => {
    const [rates, ends] = [await readRates(tx), await readRateEnds(tx)];
    return rates.map((rate) => ({ ...rate, until: untilOf(rate, rates, ends) }));
  });
}

export type RateAnswer =
  | { readonly ok: true }
  | {
      readonly ok: false;
      readonly field: "validFrom" | "country" | "currency" | "endsOn";
      readonly sentence: string;
    };

const notTheirs: RateAnswer = { ok: false, field: "country", sentence: "Rates are set by finance." };

/** Sets a rate from a day on, in the one currency of its country. A rate is never changed: a new one with a later day follows it. */
export async function setRate(actor: Actor, rate: z.output<typeof rateSchema>, now = new Date()): Promise<RateAnswer> {
  if (!may(actor, "set-rates")) return notTheirs;
  const { validFrom, ...values } = rate;
  try {
    return await asActor(actor, async (tx): Promise<RateAnswer> => {
      await lockRates(tx, rate.country);
      const sentence = whyNoSecondCurrency(
        await readRates(tx, rate.country),
        await readRateEnds(tx, rate.country),
        rate,
      );
      if (sentence !== null) return { ok: false, field: "currency", sentence };
      await tx.settlementRate.create({ data: { ...values, validFrom: toDateColumn(validFrom), ...by(actor, now) } });
      return { ok: true };
    });
  } catch (error) {
    if (!breaksUnique(error, "SettlementRate_kind_country_currency_validFrom_key")) throw error;
    return {
      ok: false,
      field: "validFrom",
      sentence: "A rate of this kind for this country and currency begins on that day already.",
    };
  }
}

/** Ends the rates of a country in one currency from a day on, also those that were to begin later; what was claimed before keeps its rate. */
export async function endRate(
  actor: Actor,
  end: z.output<typeof rateEndSchema>,
  now = new Date(),
): Promise<RateAnswer> {
  if (!may(actor, "set-rates")) return notTheirs;
  const { endsOn, ...values } = end;
  try {
    return await asActor(actor, async (tx): Promise<RateAnswer> => {
      await lockRates(tx, end.country);
      const rates = await readRates(tx, end.country);
      if (!endsAnything(rates, await readRateEnds(tx, end.country), end))
        return { ok: false, field: "endsOn", sentence: "No such rate holds on that day, or is to begin later." };
      await tx.settlementRateEnd.create({ data: { ...values, endsOn: toDateColumn(endsOn), ...by(actor, now) } });
      return { ok: true };
    });
  } catch (error) {
    if (!breaksUnique(error, "SettlementRateEnd_kind_country_currency_endsOn_key")) throw error;
    return { ok: false, field: "endsOn", sentence: "These rates end on that day already." };
  }
}

/** Of two who set or end rates of a country at once the second sees what the first did: else both could set a currency. */
async function lockRates(tx: Transaction, country: string): Promise<void> {
  await tx.$executeRaw`SELECT pg_advisory_xact_lock(hashtextextended(${`rates ${country}`}, 0))`;
}

const by = (actor: Actor, now: Date) => ({ setByUserId: actor.userId, setByName: actor.name, setAt: now });

export async function readRates(tx: Transaction, country?: string): Promise<Rate[]> {
  const rows = await tx.settlementRate.findMany({
    ...(country === undefined ? {} : { where: { country } }),
    select: { id: true, kind: true, country: true, currency: true, amountMinor: true, validFrom: true, setAt: true },
    orderBy: [{ country: "asc" }, { kind: "asc" }, { validFrom: "asc" }],
  });
  return rows.map(({ kind, validFrom, ...row }) => ({
    ...row,
    kind: readRateKind(kind),
    validFrom: fromDateColumn(validFrom),
  }));
}

export async function readRateEnds(tx: Transaction, country?: string): Promise<RateEnd[]> {
  const rows = await tx.settlementRateEnd.findMany({
    ...(country === undefined ? {} : { where: { country } }),
    select: { kind: true, country: true, currency: true, endsOn: true, setAt: true },
    orderBy: { endsOn: "asc" },
  });
  return rows.map(({ kind, endsOn, ...row }) => ({ ...row, kind: readRateKind(kind), endsOn: fromDateColumn(endsOn) }));
}

function readRateKind(stored: string): RateKind {
  const kind = rateKinds.find((known) => known === stored);
  if (kind === undefined) throw new RangeError(`rate kind: ${stored} is unknown`);
  return kind;
}
