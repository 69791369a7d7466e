import { randomUUID } from "node:crypto";
import Papa from "papaparse";
import { beforeAll, expect, test } from "vitest";
import { asSystem } from "@/lib/data/database";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { exportAffectedPacks, findAffectedPacks } from "@/lib/data/safety/affected-packs";
import { readPolicies } from "@/lib/data/warranty/policy-columns";
import { groupSerial, type Serial } from "@/lib/packs/serial";
import {
  type AffectedDefinition,
  affectedCsv,
  affectedSentence,
  countByPlace,
  packsByCountry,
} from "@/lib/reliability/affected-packs";
import { NOT_RECORDED } from "@/lib/reliability/compare-by";
import { calendarDate } from "@/lib/warranty/calendar";
import { readPackHistories } from "@/tests/support/oracle/pack-histories";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

const lot = { by: "cell-lot", group: "CELL-1" } as const;
let fleet: SmallFleet;
beforeAll(async () => {
  fleet = await createSmallFleet();
});

async function packsOf(definition: AffectedDefinition) {
  const found = await findAffectedPacks(fleet.manager, definition);
  if (found?.kind !== "packs") throw new Error(JSON.stringify(found));
  return found;
}

test("packs that share a lot are found with where they are, by country", async () => {
  const { packs, takenOut } = await packsOf(lot);
  expect(packs).toHaveLength(12);
  expect(takenOut).toBe(0);
  const placeOf = (serial: Serial) => packs.find((pack) => pack.serial === serial);
  expect(placeOf(fleet.unsold)).toMatchObject({ place: "at-a-dealer", country: "DE", soldOn: null });
  expect(placeOf(fleet.soldInSydney)).toMatchObject({ place: "with-a-customer", country: "AU", soldOn: "2024-03-15" });
  const rows = packsByCountry(packs);
  expect(rows.reduce((sum, { total }) => sum + total, 0)).toBe(12);
  expect(affectedSentence(packs, 0)).toBe(
    "12 packs in 2 countries: 0 with us, 1 at dealers, 11 with customers, 0 with carriers, 0 out of reach. 0 of them have had a confirmed failure already.",
  );
  expect(packs[0]?.serial).toBe(fleet.unsold);
});

test("a lot that a repair took out no longer counts, and is told apart", async () => {
  const [serial] = fleet.others;
  await asSystem((tx) =>
    tx.packLot.updateMany({
      where: { pack: { serial: serial ?? "" } },
      data: { removedOn: new Date("2025-06-01T00:00:00Z") },
    }),
  );
  const { packs, takenOut } = await packsOf(lot);
  expect([packs.length, takenOut]).toEqual([11, 1]);
  expect(packs.some((pack) => pack.serial === serial)).toBe(false);
});

test("a range of serials narrows the packs; what is no serial is refused in words", async () => {
  const [from, to] = [fleet.others[2], fleet.others[4]];
  if (from === undefined || to === undefined) throw new Error("the fleet has more packs");
  const revision = { by: "revision", group: "QP-A" } as const;
  const { packs } = await packsOf({ ...revision, from: groupSerial(from).toLowerCase(), to });
  expect(packs.map(({ serial }) => serial).sort()).toEqual([fleet.others[2], fleet.others[3], fleet.others[4]].sort());
  expect(await findAffectedPacks(fleet.manager, { ...revision, from: "'; DROP TABLE" })).toMatchObject({
    kind: "not-a-serial",
    field: "from",
  });
});

test("a group that is not recorded opens to the packs that have no such record", async () => {
  const all = (await packsOf({ by: "revision", group: "QP-A" })).packs.length;
  for (const by of ["potting-batch", "joining-job"] as const)
    expect((await packsOf({ by, group: NOT_RECORDED })).packs.length, by).toBeGreaterThanOrEqual(all);
  const withFirmware = await asSystem((tx) => tx.buildRecord.count());
  const packs = await asSystem((tx) => tx.pack.count());
  expect((await packsOf({ by: "firmware", group: NOT_RECORDED })).packs).toHaveLength(packs - withFirmware);
  expect((await packsOf({ by: "cell-lot", group: NOT_RECORDED })).packs.map(({ serial }) => serial)).toContain(
    fleet.others[0],
  );
  expect((await packsOf({ by: "dealer", group: NOT_RECORDED })).packs).toEqual([]);
});

test("a group that nobody knows has no packs", async () => {
  expect(countByPlace((await packsOf({ by: "dealer", group: "<script>" })).packs)["with-us"]).toBe(0);
  expect(affectedSentence((await packsOf({ by: "firmware", group: "9" })).packs, 0)).toBe(
    "No pack is like that today.",
  );
});

// reference/trade.md 2.4 names who may propose a set of affected packs; a rule of this house.
test("service lead, manager and safety officer find them, nobody else", async () => {
  for (const actor of [fleet.lead, fleet.manager, fleet.safetyOfficer])
    expect((await exportAffectedPacks(actor, lot))?.kind).toBe("packs");
  for (const actor of [fleet.berlin, fleet.bench, fleet.finance, fleet.administrator]) {
    expect(await findAffectedPacks(actor, lot)).toBeNull();
    expect(await exportAffectedPacks(actor, lot)).toBeNull();
  }
});

test("the file says in every row what the packs share and as of when", async () => {
  const { packs } = await packsOf(lot);
  const rows = Papa.parse<Record<string, string>>(affectedCsv("2026-11-01", lot, packs), { header: true }).data;
  expect(rows).toHaveLength(packs.length);
  expect(rows.every((row) => row["as of"] === "2026-11-01" && row.name === "CELL-1")).toBe(true);
  expect(new Set(rows.map((row) => row.country))).toEqual(new Set(["DE", "AU"]));
});

/** A return of the pack, decided as a repair, under which work can be recorded. */
async function underRepair(serial: Serial): Promise<{ packId: string; returnId: string; decisionId: string }> {
  const answer = await lodgeReturn(fleet.berlin, filledForm(serial, { clientKey: randomUUID() }), told);
  if (!answer.ok) throw new Error(JSON.stringify(answer));
  return asSystem(async (tx) => {
    const where = { reference: answer.reference };
    const { id: returnId, packId } = await tx.return.findUniqueOrThrow({ where, select: { id: true, packId: true } });
    const by = { decidedByUserId: "user-Lena", decidedByName: "Lena", decidedAt: told };
    const decision = {
      remedy: "repair",
      confirmedFault: "sense-wire",
      confirmedFailure: true,
      reason: "The sense lead was loose.",
    };
    const { id: decisionId } = await tx.decision.create({ data: { returnId, ...decision, seenVersion: 1, ...by } });
    return { packId, returnId, decisionId };
  });
}

const told = new Date("2026-10-05T09:00:00Z");
const byBenno = { minutes: 10, note: "Done.", byUserId: "user-Benno", byName: "Benno" };
const serialsOf = async (definition: AffectedDefinition) =>
  (await packsOf(definition)).packs.map(({ serial }) => serial);

// reference/trade.md 1.17: the set is built by any build attribute, rework included.
test("firmware that the workshop wrote counts, the one it wrote over does not, and a struck entry never did", async () => {
  const serial = fleet.others[5] as Serial;
  const work = await underRepair(serial);
  const wrote = (firmware: string, at: string) =>
    asSystem((tx) =>
      tx.workEntry.create({
        data: { ...work, operation: "firmware-written", firmware, at: new Date(at), ...byBenno },
        select: { id: true },
      }),
    );
  await wrote("2.0-bad", "2026-10-06T09:00:00Z");
  expect(await serialsOf({ by: "firmware", group: "2.0-bad" })).toEqual([serial]);
  expect(await serialsOf({ by: "firmware", group: "1.0" })).not.toContain(serial);
  expect((await packsOf({ by: "firmware", group: "1.0" })).takenOut).toBe(1);
  const { id: entryId } = await wrote("2.1", "2026-10-07T09:00:00Z");
  expect(await serialsOf({ by: "firmware", group: "2.0-bad" })).toEqual([]);
  const struck = { entryId, because: "Not written after all.", byUserId: "user-Benno", byName: "Benno", at: told };
  await asSystem((tx) => tx.workStrike.create({ data: struck, select: { entryId: true } }));
  expect(await serialsOf({ by: "firmware", group: "2.0-bad" })).toEqual([serial]);
});

test("a board that was exchanged has the hardware of the packs built with boards of its lot", async () => {
  const serial = fleet.others[6] as Serial;
  const work = await underRepair(serial);
  await asSystem(async (tx) => {
    const pack = await tx.pack.findUniqueOrThrow({ where: { id: work.packId }, include: { revision: true } });
    const { id: _, ...revision } = pack.revision;
    const newer = await tx.revision.create({
      data: { ...revision, diagnosis: undefined, changes: [], code: "QP-C", ordinal: 3, boardHardware: "H2" },
    });
    const lot = await tx.lot.create({ data: { kind: "board", code: "BOARD-9", supplier: "S2", receivedOn: told } });
    const { serial: built } = { serial: fleet.others[7] as Serial };
    await tx.pack.update({ where: { serial: built }, data: { revisionId: newer.id }, select: { id: true } });
    const { id: packId } = await tx.pack.findUniqueOrThrow({ where: { serial: built }, select: { id: true } });
    await tx.packLot.createMany({ data: [{ packId, lotId: lot.id }] });
    await tx.workEntry.create({
      data: {
        ...work,
        operation: "board-exchanged",
        lotId: lot.id,
        identity: "B-1",
        firmware: "1.0",
        at: told,
        ...byBenno,
      },
      select: { id: true },
    });
  });
  expect(await serialsOf({ by: "board-hardware", group: "H2" })).toContain(serial);
  expect(await serialsOf({ by: "board-hardware", group: "H1" })).not.toContain(serial);
});

test("a pack that a customer rides on loan and a replacement that was sent are not with us, and name the dealer to warn", async () => {
  const [lent, sent] = [fleet.others[7] as Serial, fleet.others[8] as Serial];
  const { returnId } = await underRepair(fleet.soldInBerlin);
  await asSystem(async (tx) => {
    const idOf = async (serial: Serial) => (await tx.pack.findUniqueOrThrow({ where: { serial } })).id;
    await tx.sale.deleteMany({ where: { pack: { serial: { in: [lent, sent] } } } });
    await tx.pack.updateMany({
      where: { serial: { in: [lent, sent] } },
      data: { dispatchedOn: null, dispatchedToId: null },
    });
    const person = { lentAt: told, lentByUserId: "u", lentByName: "Benno" };
    await tx.packLoan.create({ data: { packId: await idOf(lent), returnId, ...person } });
    const kept = { reservedAt: told, reservedByUserId: "u", reservedByName: "Benno" };
    await tx.unitReservation.create({ data: { packId: await idOf(sent), returnId, ...kept } });
  });
  const placeOf = async (serial: Serial) => {
    const { packs } = await packsOf({ by: "cell-lot", group: "CELL-1" });
    return packs.find((pack) => pack.serial === serial);
  };
  expect(await placeOf(lent)).toMatchObject({ place: "with-a-customer", country: "DE" });
  expect(await placeOf(sent)).toMatchObject({ place: "with-us" });
  await asSystem((tx) =>
    tx.track.create({
      data: { track: "remedy", returnId, state: "sent", version: 1, openedByUserId: "u", openedByName: "Benno" },
    }),
  );
  expect(await placeOf(sent)).toMatchObject({ place: "on-the-way", country: "DE" });
  await asSystem((tx) =>
    tx.track.updateMany({ where: { returnId, track: "remedy" }, data: { state: "received", version: 2 } }),
  );
  expect(await placeOf(sent)).toMatchObject({ place: "at-a-dealer", country: "DE" });
  await asSystem((tx) =>
    tx.packLoan.updateMany({
      where: { returnId },
      data: { returnedAt: told, returnedByUserId: "u", returnedByName: "Benno", condition: "As lent." },
    }),
  );
  expect(await placeOf(lent)).toMatchObject({ place: "with-us" });
});

// reference/trade.md 1.17: a call-back is subject to the law of each country its packs are in.
test("a replacement that a customer rides names the dealer and the country of its customer's first pack, as failure rates do", async () => {
  const serial = fleet.others[4] as Serial;
  const replaced = fleet.soldInSydney;
  await asSystem(async (tx) => {
    const idOf = async (of: Serial) => (await tx.pack.findUniqueOrThrow({ where: { serial: of } })).id;
    await tx.sale.deleteMany({ where: { pack: { serial } } });
    await tx.pack.updateMany({ where: { serial }, data: { dispatchedOn: null, dispatchedToId: null } });
    const packs = { oldPackId: await idOf(replaced), newPackId: await idOf(serial) };
    await tx.replacement.createMany({ data: [{ ...packs, deliveredOn: told }] });
  });
  const { packs } = await packsOf(lot);
  const [first, second] = [replaced, serial].map((of) => packs.find((pack) => pack.serial === of));
  expect(second).toMatchObject({ place: "with-a-customer", country: "AU", dealer: first?.dealer });
  const row = affectedCsv("2026-11-01", lot, packs)
    .split("\n")
    .find((line) => line.includes(groupSerial(serial)) || line.includes(serial));
  expect(row).toContain(first?.dealer ?? "no dealer");
  const question = { dataDate: calendarDate("2026-11-01"), within: "model" } as const;
  for (const [by, group] of [
    ["country", "AU"],
    ["dealer", first?.dealer ?? "none"],
  ] as const) {
    expect(await serialsOf({ by, group })).toContain(serial);
    expect(await serialsOf({ by, group: NOT_RECORDED })).not.toContain(serial);
    const policies = await asSystem((tx) => readPolicies(tx));
    const [history] = await asSystem((tx) => readPackHistories(tx, { ...question, by }, policies, { serial }));
    expect(history?.group).toBe(group);
  }
});
