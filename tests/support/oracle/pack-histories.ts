import { fromDateColumn, fromOptionalDateColumn } from "@/lib/data/calendar-columns";
import type { Transaction } from "@/lib/data/database";
import { custodyDays } from "@/lib/data/reliability/custody-days";
import type { LifeQuestion } from "@/lib/data/reliability/life-sql";
import { type PackDealer, readChainDealers } from "@/lib/data/reliability/pack-dealers";
import {
  coveredPack,
  lastCoveredDay,
  readChainLinks,
  readKnownOfCover,
  startSelect,
} from "@/lib/data/warranty/cover-ends";
import { type ProvenSales, soldDay } from "@/lib/data/warranty/proven-sales";
import { lotKinds, NOT_RECORDED } from "@/lib/reliability/compare-by";
import {
  type LifeDates,
  placesOutOfUse,
  remediesBackIfSent,
  remediesBackInUse,
  remediesOutOfUse,
} from "@/lib/reliability/exposure";
import type { GroupedHistory } from "@/lib/reliability/tally-lives";
import { timeWithUs } from "@/lib/warranty/absences";
import { type CalendarDate, daysBetween } from "@/lib/warranty/calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import type { WarrantyPolicy } from "@/lib/warranty/policy.schema";
import type { Prisma } from "@/prisma/generated/client";

const historySelect = {
  ...startSelect,
  id: true,
  serial: true,
  revision: { select: { code: true, boardHardware: true, model: { select: { code: true } } } },
  build: { select: { firmware: true } },
  lots: { where: { fittedOn: null }, select: { lot: { select: { kind: true, code: true } } } },
  sale: {
    select: {
      ...startSelect.sale.select,
      underObservationFrom: true,
      dealer: { select: { code: true, name: true, country: true } },
    },
  },
  replacedBy: { select: { deliveredOn: true } },
  replaces: { select: { deliveredOn: true } },
  returns: {
    where: { status: { not: "draft" } },
    select: {
      reference: true,
      status: true,
      dealer: { select: { timeZone: true } },
      moves: {
        where: { OR: [{ to: { in: ["withdrawn", "merged", "lapsed", "handed-back"] } }, { from: "lapsed" }] },
        select: { from: true, to: true, at: true },
        orderBy: { sequence: "asc" },
      },
      toldOn: true,
      lodgedAt: true,
      trackMoves: {
        where: { track: { track: "custody" } },
        select: { at: true, from: true, to: true },
        orderBy: [{ at: "asc" }, { sequence: "asc" }],
      },
      decisions: {
        select: { confirmedFailure: true, confirmedFault: true, remedy: true, decidedAt: true },
        orderBy: [{ decidedAt: "desc" }, { id: "desc" }],
      },
    },
    orderBy: [{ toldOn: "asc" }, { reference: "asc" }],
  },
} as const satisfies Prisma.PackSelect;

type HistoryRow = Prisma.PackGetPayload<{ select: typeof historySelect }>;

/**
 * Packs one by one with everything that decides how they are counted: to explain a single pack, and to hold the
 * aggregate against.
 */
export async function readPackHistories(
  tx: Transaction,
  question: LifeQuestion & { readonly dataDate: CalendarDate },
  policies: readonly WarrantyPolicy[],
  where: Prisma.PackWhereInput = {},
): Promise<GroupedHistory[]> {
  const packs = await tx.pack.findMany({ where, select: historySelect });
  const links = await readChainLinks(tx);
  const known = await readKnownOfCover(tx, question.dataDate, policies);
  const dealers = await readChainDealers(tx);
  const datesOf = (pack: HistoryRow) => ({
    soldOn: firstUse(pack, known.proven.get(pack.id)),
    coverEndsOn: lastCoveredDay(coveredPack(pack, links, known), question.dataDate, policies),
  });
  const dealerOf = ({ id, sale }: HistoryRow) => sale?.dealer ?? dealers.get(id) ?? null;
  return packs.map((pack) => historyOf(pack, { ...datesOf(pack), dealer: dealerOf(pack) }, question));
}

function historyOf(
  pack: HistoryRow,
  { soldOn, coverEndsOn, dealer }: Pick<LifeDates, "soldOn" | "coverEndsOn"> & { readonly dealer: PackDealer | null },
  question: LifeQuestion & { readonly dataDate: CalendarDate },
): GroupedHistory {
  const { dataDate } = question;
  const dispatchedOn = fromOptionalDateColumn(pack.dispatchedOn);
  const country = dealer?.country ?? NOT_RECORDED;
  const model = pack.revision.model.code;
  return {
    serial: pack.serial,
    group: groupOf(pack, dealer, question),
    stratum: question.within === "model" ? model : `${model}, ${country}`,
    dispatched: dispatchedOn !== null,
    daysSinceDispatch: dispatchedOn === null || dispatchedOn > dataDate ? null : daysBetween(dispatchedOn, dataDate),
    soldOn,
    underObservationFrom: fromOptionalDateColumn(pack.sale?.underObservationFrom ?? null),
    dataDate,
    ...returnsOf(pack, dataDate),
    replacedOn: fromOptionalDateColumn(pack.replacedBy?.deliveredOn ?? null),
    coverEndsOn: soldOn === null ? null : coverEndsOn,
  };
}

/** What was told, had reached us, and was decided by the data date; a return withdrawn or merged later still stood then. */
function returnsOf(
  { returns }: HistoryRow,
  dataDate: CalendarDate,
): Pick<LifeDates, "failure" | "openReturnToldOn" | "outOfUseOn" | "firstReturn" | "withUs"> & {
  faultFound: string | null;
} {
  const known = returns
    .filter((one) => stoodOn(one, dataDate))
    .map(({ toldOn, lodgedAt, trackMoves, moves, decisions, dealer: { timeZone } }) => ({
      zone: timeZone,
      toldOn: fromDateColumn(toldOn),
      lodgedOn: civilDateAt(lodgedAt, timeZone),
      custody: custodyDays(trackMoves, timeZone, dataDate),
      handedBackOn: lastHandBack(moves, timeZone, dataDate),
      isGone: isGoneBy(trackMoves, timeZone, dataDate),
      decision: decisions.find(({ decidedAt }) => civilDateAt(decidedAt, timeZone) <= dataDate) ?? null,
    }))
    .filter(({ toldOn, lodgedOn }) => toldOn <= dataDate && lodgedOn <= dataDate);
  const decided = known.filter(({ decision }) => decision !== null);
  const counted = decided.find(({ decision }) => decision?.confirmedFailure) ?? decided[0];
  const [first] = known;
  return {
    failure:
      counted === undefined ? null : { toldOn: counted.toldOn, confirmed: counted.decision?.confirmedFailure ?? false },
    faultFound: counted?.decision?.confirmedFault ?? null,
    openReturnToldOn: known.find(({ decision }) => decision === null)?.toldOn ?? null,
    firstReturn: first === undefined ? null : { toldOn: first.toldOn, outcome: outcomeOf(first.decision) },
    outOfUseOn: leftForGood(known),
    withUs: known.flatMap(({ zone, lodgedOn, custody, handedBackOn, isGone, decision }) => {
      const wasSent = custody.isElsewhere || custody.backWithUserOn !== null || handedBackOn !== null;
      if (decision === null || decision.confirmedFailure || isGone || !wentBack(decision.remedy, wasSent)) return [];
      const decidedOn = civilDateAt(decision.decidedAt, zone);
      const { handedOverOn, backOn } = timeWithUs({ ...custody, lodgedOn, handedBackOn, decidedOn });
      // One that is still here is out of use up to the data date.
      return [{ from: handedOverOn, until: backOn ?? dataDate }];
    }),
  };
}

function stoodOn(one: HistoryRow["returns"][number], dataDate: CalendarDate): boolean {
  const { status, moves, dealer } = one;
  const endsLater = moves.some(({ to, at }) => to === status && civilDateAt(at, dealer.timeZone) > dataDate);
  if ((status === "withdrawn" || status === "merged") && !endsLater) return false;
  return !hadLapsed(one, dataDate);
}

/** Lapsed by then, undecided, and not renewed or received since: nobody looked at the pack, which stayed in use. */
function hadLapsed(
  { status, moves, decisions, dealer: { timeZone } }: HistoryRow["returns"][number],
  dataDate: CalendarDate,
): boolean {
  if (decisions.some(({ decidedAt }) => civilDateAt(decidedAt, timeZone) <= dataDate)) return false;
  const lapses = moves.filter(({ from, to }) => from === "lapsed" || to === "lapsed");
  if (lapses.length === 0) return status === "lapsed";
  return lapses.findLast(({ at }) => civilDateAt(at, timeZone) <= dataDate)?.to === "lapsed";
}

function lastHandBack(
  moves: HistoryRow["returns"][number]["moves"],
  zone: string,
  dataDate: CalendarDate,
): CalendarDate | null {
  const days = moves
    .filter(({ from, to }) => to === "handed-back" && from !== to)
    .map(({ at }) => civilDateAt(at, zone));
  return (
    days
      .filter((day) => day <= dataDate)
      .sort()
      .at(-1) ?? null
  );
}

/** Whether the last scan by a day says that the pack is nobody's to have back. */
function isGoneBy(moves: HistoryRow["returns"][number]["trackMoves"], zone: string, dataDate: CalendarDate): boolean {
  const last = moves.findLast(({ at }) => civilDateAt(at, zone) <= dataDate);
  return placesOutOfUse.some((place) => place === last?.to);
}

interface KnownReturn {
  readonly lodgedOn: CalendarDate;
  readonly custody: ReturnType<typeof custodyDays>;
  readonly isGone: boolean;
  readonly decision: { readonly confirmedFailure: boolean; readonly remedy: string } | null;
}

function leftForGood(known: readonly KnownReturn[]): CalendarDate | null {
  const days = known.flatMap(({ lodgedOn, custody, isGone, decision }) => {
    if (decision === null || decision.confirmedFailure) return [];
    return isGone || remediesOutOfUse.some((remedy) => remedy === decision.remedy)
      ? [custody.leftUserOn ?? lodgedOn]
      : [];
  });
  return days.sort()[0] ?? null;
}

function outcomeOf(decision: HistoryRow["returns"][number]["decisions"][number] | null) {
  if (decision === null) return "undecided";
  if (decision.confirmedFailure) return "confirmed";
  return decision.confirmedFault === "unknown" ? "unclassified" : "not-confirmed";
}

/** The remedies after which the same pack goes back to its user and had been with us until then. */
function wentBack(remedy: string, wasSent: boolean): boolean {
  const isOf = (remedies: readonly string[]) => remedies.includes(remedy);
  return isOf(remediesBackInUse) || (wasSent && isOf(remediesBackIfSent));
}

/** A replacement is a new unit of age 0 on the day it reached the customer. */
function firstUse({ sale, replaces }: HistoryRow, proven: ReturnType<ProvenSales["get"]> = []): CalendarDate | null {
  if (sale === null) return fromOptionalDateColumn(replaces?.deliveredOn ?? null);
  return soldDay({ soldOn: fromDateColumn(sale.soldOn), evidence: sale.evidence }, proven);
}

function groupOf({ revision, build, lots }: HistoryRow, dealer: PackDealer | null, { by }: LifeQuestion): string {
  switch (by) {
    case "revision":
      return revision.code;
    case "board-hardware":
      return revision.boardHardware;
    case "firmware":
      return build?.firmware ?? NOT_RECORDED;
    case "dealer":
      return dealer === null ? NOT_RECORDED : `${dealer.code} ${dealer.name}`;
    case "country":
      return dealer?.country ?? NOT_RECORDED;
    default: {
      const codes = lots.filter(({ lot }) => lot.kind === lotKinds[by]).map(({ lot }) => lot.code);
      return codes.length === 0 ? NOT_RECORDED : codes.sort().join(" + ");
    }
  }
}
