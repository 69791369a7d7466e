import "server-only";
import type { BuiltValues } from "@/lib/diagnosis/baseline";
import { type PackModel, packModelSchema } from "@/lib/packs/pack-model";
import type { Serial } from "@/lib/packs/serial";
import { asMaintained } from "@/lib/repair/as-maintained";
import { type CalendarDate, calendarDate } from "@/lib/warranty/calendar";
import type { ReplacementDelivery } from "@/lib/warranty/chain-end";
import type { StartFacts } from "@/lib/warranty/cover-facts.schema";
import { daySold } from "@/lib/warranty/policy-of-sale";
import { provenBy, type ReadProof } from "@/lib/warranty/proven-days";
import { fromDateColumn, fromOptionalDateColumn } from "../calendar-columns";
import type { Transaction } from "../database";
import { readPackChanges } from "./pack-changes";
import { type PackRow, readPackRow } from "./pack-row";

export interface PackFacts {
  readonly packId: string;
  readonly serial: string;
  readonly builtOn: CalendarDate;
  /** When the first pack of its chain was built: the guarantee counts from that one. */
  readonly rootBuiltOn: CalendarDate;
  readonly model: { readonly name: string; readonly facts: PackModel };
  readonly revision: {
    readonly id: string;
    readonly code: string;
    readonly introducedOn: CalendarDate;
    readonly changes: readonly RevisionChange[];
    readonly potted: boolean;
    readonly cellsRepairable: boolean;
  };
  readonly lotCodes: readonly string[];
  /** What was recorded at the end of the line, with later work laid over it; null where no record is on file. */
  readonly built: BuiltValues | null;
  /** Zone of the place of sale; null while no sale is known. */
  readonly saleZone: string | null;
  readonly saleKnown: boolean;
  /** Country of the place of sale and kind of buyer; missing while no sale is known. */
  readonly saleCountry?: string | undefined;
  readonly buyerKind?: string | undefined;
  readonly start: StartFacts;
  /** Days of purchase on proofs that were read on returns of the chain, of each return the last one; the oldest return first. */
  readonly proofs: readonly ChainProof[];
  readonly replacements: readonly ReplacementDelivery[];
  /** Day on which another pack was handed over in its place; null where it was never replaced. */
  readonly replacedOn: CalendarDate | null;
  /** Somebody holds it under a return that is not over, whoever's it is. */
  readonly hasOpenReturn: boolean;
}

interface ChainProof extends ReadProof {
  readonly returnId: string;
}

export interface RevisionChange {
  readonly what: string;
  readonly why: string;
}

/**
 * What is known of a pack, with the sale of the first pack of its chain: cover is counted from there. Give it a system
 * transaction, because the sale may be another dealer's; nothing that names that dealer is returned. The thresholds of its model
 * are those in force now.
 */
export async function readPackFacts(tx: Transaction, serial: Serial, now = new Date()): Promise<PackFacts | null> {
  const row = await readPackRow(tx, serial, now);
  if (row === null) return null;
  const { packId, model, build, potted, cellsRepairable, lotCodes, deliveredOn, saleZone } = row;
  const proofs = row.proofs.map(({ returnId, soldOn, readAt, against }) => ({
    returnId,
    soldOn: calendarDate(soldOn),
    readAt: new Date(readAt),
    against: against.map(calendarDate),
  }));
  return {
    packId,
    serial: row.serial,
    builtOn: fromDateColumn(row.builtOn),
    rootBuiltOn: fromDateColumn(row.rootBuiltOn),
    model: {
      name: model.name,
      facts: packModelOf({ ...model, diagnosis: row.approvedThresholds ?? model.diagnosis }),
    },
    revision: {
      id: row.revisionId,
      code: row.revisionCode,
      introducedOn: fromDateColumn(row.introducedOn),
      changes: readChanges(row.changes),
      potted,
      cellsRepairable,
    },
    lotCodes,
    built: build === null ? null : asMaintained(build, await readPackChanges(tx, packId)),
    saleZone,
    saleKnown: saleZone !== null || proofs.length > 0,
    saleCountry: row.saleCountry ?? undefined,
    buyerKind: row.saleBuyerKind ?? undefined,
    start: {
      ...startFacts(saleOf(row), fromOptionalDateColumn(row.rootDispatchedOn), distributorSaleOf(row)),
      ...(proofs.length === 0 ? {} : provenBy(proofs)),
    },
    proofs,
    replacements: deliveredOn.map((day) => ({ deliveredOn: calendarDate(day) })),
    replacedOn: fromOptionalDateColumn(row.replacedOn),
    hasOpenReturn: row.hasOpenReturn,
  };
}

function saleOf({ soldOn, saleEvidence: evidence, saleRegisteredOn: registeredOn }: PackRow) {
  return soldOn === null || evidence === null ? null : { soldOn, evidence, registeredOn };
}

function distributorSaleOf({ distributorSoldOn: soldOn, distributorShelfDays: averageShelfDays }: PackRow) {
  return soldOn === null || averageShelfDays === null ? undefined : { soldOn, averageShelfDays };
}

/**
 * The day this pack came into use, as far as is known: handed over as a replacement, else sold, else sent to the dealer.
 * For judging its age only; the cover has rules of its own.
 */
export function inUseSince({ replacements, start }: PackFacts): CalendarDate | null {
  // The last in the chain is this pack's own: the facts are read from it back to the first.
  return replacements[0]?.deliveredOn ?? daySold(start) ?? start.dispatchedOn ?? null;
}

/** What a recorded sale, a distributor's sale and the dispatch say about the start of the cover. */
export function startFacts(
  sale: { soldOn: Date; evidence: string; registeredOn: Date | null } | null,
  dispatchedOn: CalendarDate | null,
  byDistributor?: { soldOn: Date; averageShelfDays: number },
): StartFacts {
  const estimates = {
    ...(dispatchedOn === null ? {} : { dispatchedOn }),
    ...(byDistributor === undefined
      ? {}
      : {
          distributorSale: {
            soldOn: fromDateColumn(byDistributor.soldOn),
            averageShelfDays: byDistributor.averageShelfDays,
          },
        }),
  };
  if (sale === null) return estimates;
  const soldOn = fromDateColumn(sale.soldOn);
  if (sale.evidence === "delivery-receipt") return { ...estimates, deliveryReceiptOn: soldOn };
  if (sale.registeredOn === null) return { ...estimates, statedOn: soldOn };
  return { ...estimates, registration: { deliveredOn: soldOn, registeredOn: fromDateColumn(sale.registeredOn) } };
}

/** The stored model in the shape the diagnosis reads. */
export function packModelOf(row: {
  seriesCount: number;
  parallelCount: number;
  ratedCapacityAh: number;
  cellMaxV: number;
  cellMinV: number;
  continuousDischargeA: number;
  peakDischargeA: number;
  peakSeconds: number;
  chargeMaxA: number;
  chargeMinTemperatureC: number;
  chargeMaxTemperatureC: number;
  cyclesTo80Percent: number;
  groupResistanceMilliohm: number | null;
  openCircuit: unknown;
  diagnosis: unknown;
}): PackModel {
  const { seriesCount, parallelCount, groupResistanceMilliohm, openCircuit, diagnosis, ...values } = row;
  return packModelSchema.parse({
    ...values,
    groups: seriesCount,
    parallel: parallelCount,
    groupResistanceMilliohm: groupResistanceMilliohm ?? undefined,
    openCircuit: openCircuit ?? undefined,
    diagnosis: diagnosis ?? undefined,
  });
}

export function readChanges(json: unknown): RevisionChange[] {
  if (!Array.isArray(json)) return [];
  return json.flatMap((item: unknown) =>
    typeof item === "object" && item !== null && "what" in item && "why" in item
      ? [{ what: String(item.what), why: String(item.why) }]
      : [],
  );
}
