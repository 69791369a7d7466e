import { randomUUID } from "node:crypto";
import { type Actor, mintActor, type Role } from "@/lib/access/actor";
import { toDateColumn } from "@/lib/data/calendar-columns";
import { asSystem } from "@/lib/data/database";
import { policyColumns } from "@/lib/data/warranty/policy-columns";
import { makeSerial, type Serial } from "@/lib/packs/serial";
import { type LodgeReturn, type LodgeReturnInput, lodgeReturnSchema } from "@/lib/returns/lodge-return.schema";
import { calendarDate } from "@/lib/warranty/calendar";
import { storyCalendar, storyDataDate } from "@/seed/scenario/story-calendar";
import { demoPolicies } from "@/seed/warranty-policies";

/** Two dealers, one model in two revisions, and a handful of packs: enough to tell every rule of the database. */
export interface SmallFleet {
  readonly berlin: Actor;
  readonly sydney: Actor;
  readonly bench: Actor;
  readonly bench2: Actor;
  readonly lead: Actor;
  readonly manager: Actor;
  readonly manager2: Actor;
  readonly safetyOfficer: Actor;
  readonly finance: Actor;
  readonly administrator: Actor;
  /** Sold in Berlin on 2025-11-03 with a receipt. */
  readonly soldInBerlin: Serial;
  /** Sold in Sydney on 2024-03-15: outside on most days these tests use. */
  readonly soldInSydney: Serial;
  /** Dispatched to Berlin, no sale known. */
  readonly unsold: Serial;
  readonly others: readonly Serial[];
}

const day = (text: string) => toDateColumn(calendarDate(text));

export async function createSmallFleet({ packs: count = 12 } = {}): Promise<SmallFleet> {
  const dealers = { berlin: randomUUID(), sydney: randomUUID() };
  const revisions = { a: randomUUID(), b: randomUUID() };
  const cellLot = randomUUID();
  const serial = (sequence: number) => makeSerial({ model: "QP", buildYear: 2024, buildWeek: 2, sequence });
  const packs = Array.from({ length: count }, (_, index) => ({ id: randomUUID(), serial: serial(index + 1) }));
  const [first, second, third, ...rest] = packs;
  if (!first || !second || !third) throw new RangeError("three packs at least");

  await asSystem(async (tx) => {
    await tx.warrantyPolicy.createMany({
      data: demoPolicies(storyCalendar(storyDataDate)).map(policyColumns),
    });
    await tx.dealer.createMany({
      data: [
        {
          id: dealers.berlin,
          code: "B",
          name: "Spreebogen Räder",
          town: "Berlin",
          country: "DE",
          timeZone: "Europe/Berlin",
          joinedOn: day("2023-01-02"),
        },
        {
          id: dealers.sydney,
          code: "S",
          name: "Kookawarra Scooters",
          town: "Sydney",
          country: "AU",
          timeZone: "Australia/Sydney",
          joinedOn: day("2023-01-02"),
        },
      ],
    });
    const model = await tx.packModel.create({
      data: {
        code: "QP",
        name: "Quarry 16",
        chemistry: "NMC/graphite",
        seriesCount: 16,
        parallelCount: 1,
        ratedCapacityAh: 40,
        ratedVoltageV: 58,
        cellMaxV: 4.2,
        cellMinV: 2.8,
        continuousDischargeA: 120,
        peakDischargeA: 240,
        peakSeconds: 10,
        chargeMaxA: 40,
        chargeMinTemperatureC: 0,
        chargeMaxTemperatureC: 45,
        cyclesTo80Percent: 1000,
        groupResistanceMilliohm: 0.9,
        massKg: 17,
      },
    });
    const revision = {
      modelId: model.id,
      potted: false,
      cellsRepairable: true,
      boardHardware: "H1",
      firmware: "1.0",
      testSummaryReference: "T-1",
    };
    await tx.revision.createMany({
      data: [
        {
          ...revision,
          id: revisions.a,
          code: "QP-A",
          ordinal: 1,
          changes: [],
          introducedOn: day("2024-01-01"),
          supersededOn: day("2025-01-01"),
        },
        {
          ...revision,
          id: revisions.b,
          code: "QP-B",
          ordinal: 2,
          changes: [{ what: "Joining", why: "Fewer open welds" }],
          introducedOn: day("2025-01-01"),
          supersededOn: null,
        },
      ],
    });
    await tx.revisionReplacement.create({
      data: { replacedId: revisions.a, replacementId: revisions.b, note: "Same connector." },
    });
    await tx.lot.create({
      data: { id: cellLot, kind: "cell", code: "CELL-1", supplier: "S1", receivedOn: day("2023-12-01") },
    });
    await tx.knownIssue.create({
      data: {
        title: "Cells of lot CELL-1 fade early",
        action: "Check the weakest group.",
        lotId: cellLot,
        faults: ["weak-cell"],
        openedOn: day("2025-02-01"),
      },
    });
    await tx.pack.createMany({
      data: packs.map(({ id, serial }) => ({
        id,
        serial,
        revisionId: revisions.a,
        builtOn: day("2024-01-10"),
        dispatchedOn: day("2024-02-01"),
        dispatchedToId: dealers.berlin,
      })),
    });
    await tx.packLot.createMany({ data: packs.map(({ id }) => ({ packId: id, lotId: cellLot })) });
    await tx.buildRecord.createMany({
      data: packs.map(({ id, serial }) => ({
        packId: id,
        capacityAh: 40.6,
        loadTestCurrentA: 120,
        loadTestSagV: 1.9,
        groupResistanceMilliohm: Array(16).fill(0.9),
        matchingSpreadMillivolt: 4,
        insulationMegaohm: 500,
        caseGapMillimetre: 1.2,
        vibrationPassed: true,
        boardIdentity: `BMS-${serial}`,
        firmware: "1.0",
        recordedOn: day("2024-01-10"),
      })),
    });
    const sale = { buyerKind: "consumer", evidence: "delivery-receipt" };
    await tx.sale.createMany({
      data: [
        {
          ...sale,
          packId: first.id,
          dealerId: dealers.berlin,
          soldOn: day("2025-11-03"),
          zone: "Europe/Berlin",
          underObservationFrom: day("2025-11-03"),
        },
        {
          ...sale,
          packId: second.id,
          dealerId: dealers.sydney,
          soldOn: day("2024-03-15"),
          zone: "Australia/Sydney",
          underObservationFrom: day("2024-03-15"),
        },
        ...rest.map(({ id }) => ({
          ...sale,
          packId: id,
          dealerId: dealers.berlin,
          soldOn: day("2025-06-02"),
          zone: "Europe/Berlin",
          underObservationFrom: day("2025-06-02"),
        })),
      ],
    });
  });
  const dealerUser = (name: string, dealerId: string) =>
    mintActor({ userId: `user-${name}`, name, role: "dealer", dealerId });
  const house = (name: string, role: Role) => mintActor({ userId: `user-${name}`, name, role, dealerId: null });
  return {
    berlin: dealerUser("Berta", dealers.berlin),
    sydney: dealerUser("Sidonie", dealers.sydney),
    bench: house("Benno", "technician"),
    bench2: house("Bruna", "technician"),
    lead: house("Lenka", "service-lead"),
    manager: house("Manon", "manager"),
    manager2: house("Milo", "manager"),
    safetyOfficer: house("Signe", "safety-officer"),
    finance: house("Fadil", "finance"),
    administrator: house("Ada", "administrator"),
    soldInBerlin: first.serial,
    soldInSydney: second.serial,
    unsold: third.serial,
    others: rest.map(({ serial }) => serial),
  };
}

/** A whole form as the server gets it; a test changes the answer it is about. */
export function filledForm(serial: Serial, changes: Partial<LodgeReturnInput> = {}): LodgeReturn {
  return lodgeReturnSchema.parse({
    clientKey: randomUUID(),
    dangerSigns: ["none-of-these"],
    serial,
    noticedOn: "2026-10-01",
    toldOn: "2026-10-02",
    concern: "Range is half of what it was.",
    symptom: "short-range",
    conditions: ["at-full-power"],
    noFileReason: "later",
    ...changes,
  });
}
