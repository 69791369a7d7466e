import "server-only";
import type { Absence } from "@/lib/warranty/absences";
import { type CalendarDate, plusDays } from "@/lib/warranty/calendar";
import type { ReplacementDelivery } from "@/lib/warranty/chain-end";
import { isHoliday, readHolidayList } from "@/lib/warranty/holiday-rules";
import type { WarrantyPolicy } from "@/lib/warranty/policy.schema";
import type { Prisma } from "@/prisma/generated/client";
import { fromDateColumn, fromOptionalDateColumn } from "../calendar-columns";
import type { Transaction } from "../database";
import { startFacts } from "../packs/pack-facts";
import { LONGEST_CHAIN } from "../packs/pack-row";
import { readHolidaysOn } from "../safety/holiday-calendars";
import { type CoveredPack, coverUnder } from "./cover";
import { newestDistributorSale } from "./distributor-sales";
import { type EarlierStays, readEarlierStays } from "./earlier-stays";
import { readPolicies } from "./policy-columns";
import { type ProvenSales, provenOnChain, readProvenSales, soldDay } from "./proven-sales";

/** What the cover of a pack at the head of a chain is counted from. */
export const startSelect = {
  builtOn: true,
  dispatchedOn: true,
  sale: {
    select: { soldOn: true, zone: true, evidence: true, registeredOn: true, dealer: { select: { country: true } } },
  },
  distributorSales: newestDistributorSale,
} as const satisfies Prisma.PackSelect;

type StartRow = Prisma.PackGetPayload<{ select: typeof startSelect }>;

interface ChainLink {
  readonly oldPackId: string;
  readonly oldPack: StartRow;
  readonly deliveredOn: CalendarDate;
}

/** By the pack that came, the pack that went. */
export type ChainLinks = ReadonlyMap<string, ChainLink>;

/** Every replacement there is, read at once: chains are walked in memory, not by a query a step. */
export async function readChainLinks(tx: Transaction): Promise<ChainLinks> {
  const rows = await tx.replacement.findMany({
    select: { newPackId: true, oldPackId: true, deliveredOn: true, oldPack: { select: startSelect } },
  });
  return new Map(
    rows.map(({ newPackId, deliveredOn, ...link }) => [
      newPackId,
      { ...link, deliveredOn: fromDateColumn(deliveredOn) },
    ]),
  );
}

/** What the cover of a pack rests on beside its policy. */
export interface CoveredInTime {
  readonly pack: CoveredPack;
  readonly absences: readonly Absence[];
  /** Public holidays of the country it was sold in, as they are written. */
  readonly holidays: readonly string[];
}

/** What is known of the cover of many packs, read once. */
interface KnownOfCover {
  readonly stays: EarlierStays;
  readonly proven: ProvenSales;
  readonly holidays: ReadonlyMap<string, readonly string[]>;
}

/** By a day, under these policies: what moves nothing is not read. */
export async function readKnownOfCover(
  tx: Transaction,
  dataDate: CalendarDate,
  policies: readonly WarrantyPolicy[],
): Promise<KnownOfCover> {
  const stays = await readEarlierStays(tx, dataDate, policies);
  const proven = await readProvenSales(tx, dataDate);
  const movesOn = policies.some(({ weekendEnd }) => weekendEnd !== "as-it-falls");
  return { stays, proven, holidays: movesOn ? await readHolidaysOn(tx, dataDate) : new Map() };
}

/**
 * A pack as its cover sees it: the start of the first pack of its chain, every replacement up to this one, and the time its
 * customer was without a pack.
 */
export function coveredPack(
  pack: StartRow & { readonly id: string },
  links: ChainLinks,
  { stays, proven, holidays }: KnownOfCover,
): CoveredInTime {
  const replacements: ReplacementDelivery[] = [];
  const chain = [pack.id];
  let root: StartRow = pack;
  let link = links.get(pack.id);
  while (link !== undefined && replacements.length < LONGEST_CHAIN) {
    replacements.push({ deliveredOn: link.deliveredOn });
    root = link.oldPack;
    chain.push(link.oldPackId);
    link = links.get(link.oldPackId);
  }
  const zone = root.sale?.zone ?? null;
  return {
    pack: {
      rootBuiltOn: fromDateColumn(root.builtOn),
      start: {
        ...startFacts(root.sale, fromOptionalDateColumn(root.dispatchedOn), root.distributorSales[0]),
        ...provenOnChain(proven, chain),
      },
      replacements,
    },
    absences: chain.flatMap((id) => (stays.get(id) ?? []).flatMap((of) => of(zone))),
    holidays: holidays.get(root.sale?.dealer.country ?? "") ?? [],
  };
}

/**
 * The last day on which a complaint about a pack is within cover, grace included, by what is known on the data date:
 * the cover's own answer, clock stops and the holidays as listed on that day included, so that statistics and cover cannot disagree about it. A field
 * action is not in it: it covers whatever the dates say, while it is open. Null where no start of the cover is known, or no policy is stored.
 */
export function lastCoveredDay(
  { pack, absences, holidays }: CoveredInTime,
  dataDate: CalendarDate,
  policies: readonly WarrantyPolicy[],
): CalendarDate | null {
  // A new house may know sales before it has rules: its packs have no end of cover then, and the pages say so.
  if (policies.length === 0) return null;
  const cover = coverUnder(policies, pack, { toldOn: dataDate, stated: null }, { absences, holidays });
  return cover.outcome === "cannot-tell-yet" ? (cover.settlement?.graceEndsOn ?? null) : cover.graceEndsOn;
}

/** Ends of cover as columns: by day of sale, and by pack for those that came in another's place or were away while a clock stood still. */
export interface CoverEnds {
  readonly dataDate: CalendarDate;
  readonly saleDays: readonly string[];
  readonly saleEnds: readonly (string | null)[];
  /** Days of sale whose cover ends later in a country, because it would end on a holiday there. */
  readonly holidayEnds: readonly { readonly soldOn: string; readonly country: string; readonly ends: string | null }[];
  readonly packIds: readonly string[];
  readonly packEnds: readonly (string | null)[];
  /** Packs whose day of sale is another than the one entered, because a proof was read. */
  readonly redatedIds: readonly string[];
  readonly redatedDays: readonly string[];
  /** Whether any policy is stored; without one no end is known. */
  readonly hasRules: boolean;
}

/**
 * Ends of cover of all packs as known on a day: worked out once for everything a page asks of their lives. Neither evidence
 * nor dispatch matters here: with a sale on record and no replacement, the day of sale decides, and the country where it has holidays.
 */
export async function readCoverEnds(tx: Transaction, dataDate: CalendarDate): Promise<CoverEnds> {
  const policies = await readPolicies(tx);
  const span = await tx.sale.aggregate({ _min: { soldOn: true }, _max: { soldOn: true } });
  const saleDays: CalendarDate[] = [];
  if (span._min.soldOn !== null && span._max.soldOn !== null) {
    const last = fromDateColumn(span._max.soldOn);
    for (let day = fromDateColumn(span._min.soldOn); day <= last; day = plusDays(day, 1)) saleDays.push(day);
  }
  const endOfSale = (soldOn: CalendarDate, holidays: readonly string[]) => {
    const pack = { rootBuiltOn: soldOn, start: { deliveryReceiptOn: soldOn }, replacements: [] };
    return lastCoveredDay({ pack, absences: [], holidays }, dataDate, policies);
  };
  const saleEnds = saleDays.map((soldOn) => endOfSale(soldOn, []));
  const links = await readChainLinks(tx);
  const known = await readKnownOfCover(tx, dataDate, policies);
  const { stays, proven } = known;
  const holidayEnds = [...known.holidays].flatMap(([country, holidays]) => {
    const rules = readHolidayList(holidays);
    // Weekends are passed without any list, so a list moves an end only where it falls on one of its days.
    return saleDays.flatMap((soldOn, i) => {
      const plain = saleEnds[i] ?? null;
      const ends = plain !== null && isHoliday(plain, rules) ? endOfSale(soldOn, holidays) : plain;
      return ends === plain ? [] : [{ soldOn, country, ends }];
    });
  });
  const ofTheirOwn = await tx.pack.findMany({
    where: {
      OR: [{ replaces: { isNot: null } }, ...(stays.size + proven.size === 0 ? [] : [{ returns: { some: {} } }])],
    },
    select: { id: true, ...startSelect },
  });
  const redated = ofTheirOwn.flatMap(({ id, sale }) => {
    if (sale === null) return [];
    const known = { soldOn: fromDateColumn(sale.soldOn), evidence: sale.evidence };
    const soldOn = soldDay(known, proven.get(id) ?? []);
    return soldOn === known.soldOn ? [] : [{ id, soldOn }];
  });
  return {
    dataDate,
    hasRules: policies.length > 0,
    saleDays,
    saleEnds,
    holidayEnds,
    packIds: ofTheirOwn.map(({ id }) => id),
    packEnds: ofTheirOwn.map((pack) => lastCoveredDay(coveredPack(pack, links, known), dataDate, policies)),
    redatedIds: redated.map(({ id }) => id),
    redatedDays: redated.map(({ soldOn }) => soldOn),
  };
}
