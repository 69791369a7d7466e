import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type FailureCost, failureCost } from "@/lib/reliability/failure-cost";
import { type CostAssumption, errorOfMean } from "@/lib/settlement/cost-assumption";
import type { CostAssumptionProposal, ExchangeRateInput } from "@/lib/settlement/cost-assumption.schema";
import type { ExchangeRate } from "@/lib/settlement/exchange";
import { minorDigits } from "@/lib/settlement/money";
import { type CalendarDate, isCalendarDate } from "@/lib/warranty/calendar";
import { toDateColumn } from "./calendar-columns";
import { assumptionSelect, readCostBook, readDecidedFailures, toAssumption } from "./cost-book";
import { asActor } from "./database";
import { readEnvironment } from "./env";
import { breaksUnique } from "./unique-violation";

export interface CostView extends CostAssumption {
  readonly state: "proposed" | "approved" | "dropped";
  readonly why: string;
  readonly proposedByName: string | null;
  readonly proposedAt: Date;
  readonly settledByName: string | null;
  readonly settledAt: Date | null;
  readonly isOwnProposal: boolean;
}

export type CostAnswer =
  | { readonly ok: true }
  | {
      readonly ok: false;
      readonly reason:
        | "not-allowed"
        | "no-such-day"
        | "no-such-model"
        | "day-taken"
        | "same-currency"
        | "not-found"
        | "same-person"
        | "settled";
      readonly sentence: string;
    };

function refuse(reason: Extract<CostAnswer, { ok: false }>["reason"], sentence: string): CostAnswer {
  return { ok: false, reason, sentence };
}

/** Every assumed cost, proposals first, then by what it is for, the newest first. Null where the person may not ask. */
export async function listCosts(actor: Actor): Promise<CostView[] | null> {
  if (!may(actor, "read-forecast")) return null;
  const rows = await asActor(actor, (tx) =>
    tx.costAssumption.findMany({
      select: {
        ...assumptionSelect,
        state: true,
        why: true,
        proposedByUserId: true,
        proposedByName: true,
        proposedAt: true,
        settledByName: true,
        settledAt: true,
      },
      orderBy: [{ state: "desc" }, { part: "desc" }, { remedy: "asc" }, { validFrom: "desc" }],
    }),
  );
  return rows.map(({ state, why, proposedByUserId, proposedByName, proposedAt, settledByName, settledAt, ...row }) => ({
    ...toAssumption(row),
    state: readState(state),
    why,
    proposedByName,
    proposedAt,
    settledByName,
    settledAt,
    isOwnProposal: proposedByUserId === actor.userId,
  }));
}

function readState(stored: string): CostView["state"] {
  if (stored === "proposed" || stored === "approved" || stored === "dropped") return stored;
  throw new RangeError(`state of a cost: ${stored} is unknown`);
}

export interface ModelCosts {
  readonly currency: string;
  readonly models: readonly { readonly model: string; readonly cost: FailureCost }[];
  readonly rates: readonly ExchangeRate[];
}

/** What one failure of each model costs on a day, and the rates it is told at. Null where the person may not ask. */
export async function readModelCosts(actor: Actor, on: CalendarDate): Promise<ModelCosts | null> {
  if (!may(actor, "read-forecast")) return null;
  return asActor(actor, async (tx) => {
    const book = await readCostBook(tx, on);
    const decided = await readDecidedFailures(tx, on);
    const models = await tx.packModel.findMany({ select: { code: true }, orderBy: { code: "asc" } });
    return {
      currency: book.reportingCurrency,
      rates: book.rates,
      models: models.map(({ code }) => ({ model: code, cost: failureCost(code, decided.get(code) ?? [], book) })),
    };
  });
}

/** Models a cost can be proposed for. */
export async function listModelCodes(actor: Actor): Promise<string[]> {
  if (!may(actor, "propose-cost")) return [];
  const rows = await asActor(actor, (tx) =>
    tx.packModel.findMany({ select: { code: true }, orderBy: { code: "asc" } }),
  );
  return rows.map(({ code }) => code);
}

/** Proposes what a return costs from a day on. It counts for nothing until another manager approves it. */
export async function proposeCost(
  actor: Actor,
  proposal: CostAssumptionProposal,
  now = new Date(),
): Promise<CostAnswer> {
  if (!may(actor, "propose-cost")) return refuse("not-allowed", "A cost is proposed by a manager.");
  const { part, remedy, model, country, currency, mean, spread, cases, error, validFrom, why } = proposal;
  if (!isCalendarDate(validFrom)) return refuse("no-such-day", "This day does not exist.");
  const minor = (amount: number) => Math.round(amount * 10 ** minorDigits(currency));
  return asActor(actor, async (tx) => {
    if (model !== "" && (await tx.packModel.findUnique({ where: { code: model }, select: { id: true } })) === null)
      return refuse("no-such-model", "There is no such model.");
    await tx.costAssumption.create({
      data: {
        part,
        remedy,
        modelCode: model === "" ? null : model,
        country: country === "" ? null : country,
        currency,
        meanMinor: minor(mean),
        spreadMinor: minor(spread),
        errorMinor: minor(errorOfMean(spread, cases, error ?? 0)),
        cases,
        validFrom: toDateColumn(validFrom),
        state: "proposed",
        why,
        proposedByUserId: actor.userId,
        proposedByName: actor.name,
        proposedAt: now,
      },
    });
    return { ok: true };
  });
}

/** Approves or drops a proposed cost. Whoever proposed it never approves it. */
export async function settleCost(
  actor: Actor,
  id: string,
  verdict: "approved" | "dropped",
  now = new Date(),
): Promise<CostAnswer> {
  if (!may(actor, "approve-cost")) return refuse("not-allowed", "A cost is approved by a manager.");
  try {
    return await asActor(actor, async (tx) => {
      const row = await tx.costAssumption.findUnique({
        where: { id },
        select: { state: true, proposedByUserId: true },
      });
      if (row === null) return refuse("not-found", "There is no such cost.");
      if (row.state !== "proposed") return refuse("settled", "This cost is settled already.");
      if (verdict === "approved" && row.proposedByUserId === actor.userId)
        return refuse("same-person", "You proposed this cost, so another manager approves it.");
      const { count } = await tx.costAssumption.updateMany({
        where: { id, state: "proposed" },
        data: { state: verdict, settledByUserId: actor.userId, settledByName: actor.name, settledAt: now },
      });
      return count === 1 ? { ok: true } : refuse("settled", "Somebody settled this cost meanwhile.");
    });
  } catch (error) {
    if (breaksUnique(error, "CostAssumption_one_approved_a_day") || breaksUnique(error, "validFrom"))
      return refuse("day-taken", "Another approved cost of this kind begins on the same day.");
    throw error;
  }
}

/** Sets what a currency is worth in the reporting currency from a day on. A rate is never changed: a later one follows it. */
export async function setExchangeRate(actor: Actor, input: ExchangeRateInput, now = new Date()): Promise<CostAnswer> {
  if (!may(actor, "set-rates")) return refuse("not-allowed", "Rates are set by finance.");
  const { currency, rate, validFrom, source } = input;
  const into = readEnvironment().reportingCurrency;
  if (!isCalendarDate(validFrom)) return refuse("no-such-day", "This day does not exist.");
  if (currency === into) return refuse("same-currency", `Costs are told in ${into} already.`);
  try {
    await asActor(actor, (tx) =>
      tx.exchangeRate.create({
        data: {
          currency,
          into,
          rate,
          validFrom: toDateColumn(validFrom),
          source,
          setByUserId: actor.userId,
          setByName: actor.name,
          setAt: now,
        },
      }),
    );
    return { ok: true };
  } catch (error) {
    if (!breaksUnique(error, "validFrom")) throw error;
    return refuse("day-taken", "A rate of this currency begins on that day already.");
  }
}
