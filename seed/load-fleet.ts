import { toDateColumn, toOptionalDateColumn } from "@/lib/data/calendar-columns";
import type { Transaction } from "@/lib/data/database";
import { policyColumns } from "@/lib/data/warranty/policy-columns";
import type { Prisma } from "@/prisma/generated/client";
import type { Scenario, ScenarioModel, ScenarioSale } from "./scenario/scenario";
import { storyCalendar } from "./scenario/story-calendar";
import { demoPolicies } from "./warranty-policies";

/** PostgreSQL takes at most 65,535 values in one statement; the widest row here has thirteen. */
const ROWS_PER_INSERT = 2_000;

/** Everything that exists before the first return: policies, models, revisions, lots, dealers, packs, sales, replacements. */
export async function loadFleet(tx: Transaction, scenario: Scenario): Promise<void> {
  const { models, revisions, lots, dealers, packs } = scenario;
  const idOf = {
    model: byCode(models),
    revision: byCode(revisions),
    lot: byCode(lots),
    dealer: byCode(dealers),
    pack: new Map(packs.map(({ serial, id }) => [serial, id])),
  };
  await tx.warrantyPolicy.createMany({
    data: demoPolicies(storyCalendar(scenario.asOf)).map(policyColumns),
  });
  await tx.packModel.createMany({ data: models.map(modelRow) });
  await tx.revision.createMany({
    data: revisions.map(({ modelCode, order, changes, introducedOn, supersededOn, ...rest }) => ({
      ...rest,
      modelId: need(idOf.model, modelCode),
      ordinal: order,
      changes: changes.map(({ what, why }) => ({ what, why })),
      introducedOn: toDateColumn(introducedOn),
      supersededOn: toOptionalDateColumn(supersededOn),
    })),
  });
  await tx.revisionReplacement.createMany({
    data: scenario.compatibilities.map(({ oldRevisionCode, newRevisionCode, note }) => ({
      replacedId: need(idOf.revision, oldRevisionCode),
      replacementId: need(idOf.revision, newRevisionCode),
      note,
    })),
  });
  await tx.lot.createMany({
    data: lots.map(({ id, code, kind, supplierCode, receivedOn }) => ({
      id,
      code,
      kind,
      supplier: supplierCode,
      receivedOn: toDateColumn(receivedOn),
    })),
  });
  await tx.partReceipt.createMany({ data: partsOnTheShelf(lots) });
  await tx.knownIssue.createMany({
    data: scenario.knownIssues.map(({ revisionCode, lotCode, faults, openedOn, closedOn, ...rest }) => ({
      ...rest,
      revisionId: revisionCode === null ? null : need(idOf.revision, revisionCode),
      lotId: lotCode === null ? null : need(idOf.lot, lotCode),
      faults: [...faults],
      openedOn: toDateColumn(openedOn),
      closedOn: toOptionalDateColumn(closedOn),
    })),
  });
  await tx.dealer.createMany({
    data: dealers.map(({ id, code, name, town, country, zone, joinedOn }) => ({
      id,
      code,
      name,
      town,
      country,
      timeZone: zone,
      joinedOn: toDateColumn(joinedOn),
    })),
  });
  for (const some of inBatches(packs)) {
    await tx.pack.createMany({
      data: some.map(({ id, serial, revisionCode, builtOn, dispatchedOn, dealerCode }) => ({
        id,
        serial,
        revisionId: need(idOf.revision, revisionCode),
        builtOn: toDateColumn(builtOn),
        dispatchedOn: toOptionalDateColumn(dispatchedOn),
        dispatchedToId: dealerCode === null ? null : need(idOf.dealer, dealerCode),
      })),
    });
    await tx.buildRecord.createMany({
      data: some.map(({ id, builtOn, build: { cellMatchingSpreadMv, groupResistanceMilliohm, ...build } }) => ({
        ...build,
        packId: id,
        groupResistanceMilliohm: [...groupResistanceMilliohm],
        matchingSpreadMillivolt: cellMatchingSpreadMv,
        recordedOn: toDateColumn(builtOn),
      })),
    });
    await tx.packLot.createMany({
      data: some.flatMap(({ id, lotCodes }) => lotCodes.map((code) => ({ packId: id, lotId: need(idOf.lot, code) }))),
    });
  }
  for (const some of inBatches(scenario.sales)) {
    await tx.sale.createMany({
      data: some.map((sale) => saleRow(sale, need(idOf.pack, sale.serial), need(idOf.dealer, sale.dealerCode))),
    });
  }
  await tx.replacement.createMany({
    data: scenario.replacements.map(({ id, oldSerial, newSerial, deliveredOn }) => ({
      id,
      oldPackId: need(idOf.pack, oldSerial),
      newPackId: need(idOf.pack, newSerial),
      deliveredOn: toDateColumn(deliveredOn),
    })),
  });
}

/** Some of the newest lots of cells and boards also lie on the shelf for repairs. */
function partsOnTheShelf(lots: Scenario["lots"]): Prisma.PartReceiptCreateManyInput[] {
  return (["cell", "board"] as const).flatMap((kind) =>
    lots
      .filter((lot) => lot.kind === kind)
      .slice(-2)
      .map(({ id, receivedOn }) => ({
        lotId: id,
        quantity: 8,
        receivedAt: toDateColumn(receivedOn),
        byUserId: "stores",
        byName: "Stores",
      })),
  );
}

function modelRow({
  id,
  code,
  name,
  chemistry,
  nominalV,
  massKg,
  model,
}: ScenarioModel): Prisma.PackModelCreateManyInput {
  const { groups, parallel, groupResistanceMilliohm, openCircuit, diagnosis, ...values } = model;
  return {
    ...values,
    id,
    code,
    name,
    chemistry,
    massKg,
    ratedVoltageV: nominalV,
    seriesCount: groups,
    parallelCount: parallel,
    groupResistanceMilliohm: groupResistanceMilliohm ?? null,
    ...(openCircuit === undefined ? {} : { openCircuit }),
    ...(diagnosis === undefined ? {} : { diagnosis }),
  };
}

const storedEvidence = {
  "proof-of-purchase": "delivery-receipt",
  "dealer-registration": "registration",
  "stated-at-complaint": "statement",
} as const;

function saleRow(sale: ScenarioSale, packId: string, dealerId: string): Prisma.SaleCreateManyInput {
  const { id, soldOn, zone, evidence, buyerKind, underObservationFrom } = sale;
  return {
    id,
    packId,
    dealerId,
    soldOn: toDateColumn(soldOn),
    zone,
    buyerKind,
    evidence: storedEvidence[evidence],
    registeredOn: evidence === "dealer-registration" ? toDateColumn(soldOn) : null,
    underObservationFrom: toDateColumn(underObservationFrom),
  };
}

function byCode(things: readonly { readonly code: string; readonly id: string }[]): Map<string, string> {
  return new Map(things.map(({ code, id }) => [code, id]));
}

/** The id behind a key of the scenario, which is complete by its own tests. */
export function need(ids: ReadonlyMap<string, string>, key: string): string {
  const id = ids.get(key);
  if (id === undefined) throw new RangeError(`the scenario names ${key} but does not hold it`);
  return id;
}

export function* inBatches<Row>(rows: readonly Row[]): Generator<readonly Row[]> {
  for (let start = 0; start < rows.length; start += ROWS_PER_INSERT) yield rows.slice(start, start + ROWS_PER_INSERT);
}
