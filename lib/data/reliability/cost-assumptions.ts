import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type ProposalRefusal, proposalSentences, type Verdict } from "@/lib/access/two-people";
import type { FailureCost } from "@/lib/reliability/failure-cost";
import { type CostAssumption, errorOfMean } from "@/lib/settlement/cost-assumption";
import type { CostAssumptionProposal, ExchangeRateInput } from "@/lib/settlement/cost-assumption.schema";
import type { ExchangeRate } from "@/lib/settlement/exchange";
import { minorDigits } from "@/lib/settlement/money";
import { type CalendarDate, isCalendarDate } from "@/lib/warranty/calendar";
import { toDateColumn } from "../calendar-columns";
import { asActor } from "../database";
import { readEnvironment } from "../env";
import { peopleSelect, proposedBy, settleProposal, type TwoPeople, twoPeople } from "../two-people";
import { breaksUnique } from "../unique-violation";
import { readCoverEnds } from "../warranty/cover-ends";
import { assumptionSelect, type RevisionCost, readCostBook, readRevisionCosts, toAssumption } from "./cost-book";

export type CostView = CostAssumption & TwoPeople;

type OwnRefusal = "no-such-day" | "no-such-model" | "same-currency";
export type CostAnswer =
  | { readonly ok: true }
  | { readonly ok: false; readonly reason: ProposalRefusal | OwnRefusal; readonly sentence: string };

const sentences = proposalSentences({
  thing: "cost",
  whose: "managers",
  another: "another manager",
  notPast: "what was told before stays told.",
});

const refuse = (reason: Extract<CostAnswer, { ok: false }>["reason"], sentence: string): CostAnswer => ({
  ok: false,
  reason,
  sentence,
});

/** Every assumed cost, proposals first, then by what it is for, the newest first. Null where the person may not ask. */
export async function listCosts(actor: Actor): Promise<CostView[] | null> {
  if (!may(actor, "read-forecast")) return null;
  const rows = await asActor(actor, (tx) =>
    tx.costAssumption.findMany({
      select: { ...assumptionSelect, ...peopleSelect },
      orderBy: [{ state: "desc" }, { part: "desc" }, { remedy: "asc" }, { validFrom: "desc" }],
    }),
  );
  return rows.map((row) => ({ ...toAssumption(row), ...twoPeople(actor, row) }));
}

export interface ModelCosts {
  readonly currency: string;
  /** By model: the costs its revisions are priced by, each with the revisions that share it. */
  readonly models: readonly {
    readonly model: string;
    readonly name: string;
    readonly costs: readonly { readonly revisions: readonly string[]; readonly cost: FailureCost }[];
  }[];
  readonly rates: readonly ExchangeRate[];
}

/** What one failure of each model costs on a day, and the rates it is told at. Null where the person may not ask. */
export async function readModelCosts(actor: Actor, on: CalendarDate): Promise<ModelCosts | null> {
  if (!may(actor, "read-forecast")) return null;
  return asActor(actor, async (tx) => {
    const ends = await readCoverEnds(tx, on);
    const book = await readCostBook(tx, ends);
    const costs = await readRevisionCosts(tx, ends, book);
    const models = await tx.packModel.findMany({ select: { code: true, name: true }, orderBy: { code: "asc" } });
    return {
      currency: book.reportingCurrency,
      rates: book.rates,
      models: models.map(({ code, name }) => ({
        model: code,
        name,
        costs: sharedCosts(costs.filter(({ model }) => model === code)),
      })),
    };
  });
}

function sharedCosts(costs: readonly RevisionCost[]): ModelCosts["models"][number]["costs"] {
  const shared = new Map<string, { revisions: string[]; cost: FailureCost }>();
  for (const { revision, cost } of costs) {
    const known = shared.get(cost.of) ?? { revisions: [], cost };
    shared.set(cost.of, known);
    known.revisions.push(revision);
  }
  return [...shared.values()];
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
  if (!may(actor, "propose-cost")) return refuse("not-allowed", sentences["not-allowed"]);
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
        why,
        ...proposedBy(actor, now),
      },
    });
    return { ok: true };
  });
}

/** Approves or drops a proposed cost. Whoever proposed it never approves it. */
export async function settleCost(actor: Actor, id: string, verdict: Verdict, now = new Date()): Promise<CostAnswer> {
  if (!may(actor, "approve-cost")) return refuse("not-allowed", sentences["not-allowed"]);
  const answer = await settleProposal(actor, {
    verdict,
    now,
    find: (tx) => tx.costAssumption.findUnique({ where: { id }, select: { state: true, proposedByUserId: true } }),
    save: (tx, _row, columns) => tx.costAssumption.updateMany({ where: { id, state: "proposed" }, data: columns }),
    dayIndex: "CostAssumption_one_approved_a_day",
  });
  return answer.ok ? answer : refuse(answer.reason, sentences[answer.reason]);
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
    if (!breaksUnique(error, "ExchangeRate_currency_into_validFrom_key")) throw error;
    return refuse("day-taken", "A rate of this currency begins on that day already.");
  }
}
