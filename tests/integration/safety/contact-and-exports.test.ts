import { randomUUID } from "node:crypto";
import { beforeAll, expect, test } from "vitest";
import { listExports, recordExport } from "@/lib/data/accounts/exports-taken";
import { asActor, asSystem } from "@/lib/data/database";
import { exportLines } from "@/lib/data/money/settlement";
import { endContactsAsSystem } from "@/lib/data/returns/end-contacts";
import { exportReturns } from "@/lib/data/returns/export-returns";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { flagSafety, setLegalHold } from "@/lib/data/returns/move-track";
import {
  eraseSafetyContact,
  keepSafetyContact,
  readSafetyContact,
  revealSafetyContact,
} from "@/lib/data/returns/safety-contact";
import { groupSerial } from "@/lib/packs/serial";
import { packInStore } from "@/tests/support/pack-in-store";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";
import { expectWrittenOnce } from "@/tests/support/written-once";

withTestDatabase();

const now = new Date("2026-10-05T09:00:00Z");
const number = "+49 30 1234567";
const why = "Safety notice 3 of October.";
let fleet: SmallFleet;
let reference = "";

beforeAll(async () => {
  fleet = await createSmallFleet();
  const lodged = await lodgeReturn(fleet.berlin, filledForm(fleet.others[0] ?? fleet.unsold), now);
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  reference = lodged.reference;
});

test("a customer's contact is its dealer's; lead and safety officer see it for a reason, which the dealer reads", async () => {
  expect((await readSafetyContact(fleet.berlin, reference))?.isKept).toBe(false);
  for (const actor of [fleet.lead, fleet.bench, fleet.manager])
    expect(await keepSafetyContact(actor, reference, number, now), actor.role).toMatchObject({ reason: "not-allowed" });
  expect(await keepSafetyContact(fleet.sydney, reference, number, now)).toMatchObject({ reason: "not-found" });
  expect(await keepSafetyContact(fleet.berlin, reference, number, now)).toEqual({ ok: true });
  expect((await readSafetyContact(fleet.berlin, reference))?.own).toBe(number);

  // Nothing of it lies in the database in plain.
  const { sealed } = await asSystem((tx) => tx.safetyContact.findFirstOrThrow());
  expect(Buffer.from(sealed, "base64").toString("latin1")).not.toContain("1234567");
  for (const actor of [fleet.bench, fleet.finance, fleet.administrator, fleet.sydney])
    expect(await readSafetyContact(actor, reference), actor.role).toBeNull();
  expect(await readSafetyContact(fleet.lead, reference)).toMatchObject({ isKept: true, own: null, mayReveal: true });
  expect(await readSafetyContact(fleet.manager, reference)).toMatchObject({
    isKept: true,
    own: null,
    mayReveal: false,
  });
  // The house reads no key, whoever asks past the program.
  for (const actor of [fleet.lead, fleet.safetyOfficer, fleet.manager, fleet.bench])
    expect(await asActor(actor, (tx) => tx.safetyContactKey.count()), actor.role).toBe(0);

  for (const actor of [fleet.bench, fleet.manager, fleet.finance, fleet.administrator, fleet.berlin])
    expect(await revealSafetyContact(actor, reference, why, now), actor.role).toMatchObject({ ok: false });
  // Without a reason no entry can be written, and without the entry nothing comes out.
  await expect(revealSafetyContact(fleet.lead, reference, "So.", now)).rejects.toThrow(/SafetyContactReveal_why/);
  for (const actor of [fleet.lead, fleet.safetyOfficer])
    expect(await revealSafetyContact(actor, reference, why, now)).toEqual({ ok: true, contact: number });
  expect((await readSafetyContact(fleet.berlin, reference))?.reveals).toMatchObject([{ why }, { why }]);
  await expectWrittenOnce(
    () => asSystem((tx) => tx.safetyContactReveal.findMany({ orderBy: { byName: "asc" } })),
    () => asSystem((tx) => tx.safetyContactReveal.updateMany({ data: { why: "something else" } })),
  );

  expect(await eraseSafetyContact(fleet.berlin, reference, now)).toEqual({ ok: true });
  expect(await revealSafetyContact(fleet.lead, reference, why, now)).toMatchObject({ reason: "not-found" });
  expect(await asSystem((tx) => tx.safetyContactKey.count())).toBe(0);
  expect((await readSafetyContact(fleet.berlin, reference))?.reveals).toHaveLength(2);
});

test("returns in bulk are a dealer's own, and the house's for those who may take them; money is finance's", async () => {
  const other = await lodgeReturn(fleet.sydney, filledForm(fleet.soldInSydney), now);
  if (!other.ok) throw new Error(JSON.stringify(other));
  expect((await exportReturns(fleet.berlin))?.map((row) => row.reference)).toEqual([reference]);
  for (const actor of [fleet.lead, fleet.manager, fleet.safetyOfficer])
    expect(await exportReturns(actor), actor.role).toHaveLength(2);
  for (const actor of [fleet.bench, fleet.finance, fleet.administrator])
    expect(await exportReturns(actor), actor.role).toBeNull();
  expect(await exportLines(fleet.finance)).toEqual([]);
  for (const actor of [fleet.lead, fleet.manager, fleet.berlin])
    expect(await exportLines(actor), actor.role).toBeNull();
});

test("whoever takes a file leaves an entry, and only those in charge read it", async () => {
  await recordExport(fleet.berlin, "returns-2026-10-05", {}, now);
  await recordExport(fleet.lead, "packs-concerned-2026-10-05", { by: "revision", group: "QP-B" }, now);
  for (const actor of [fleet.manager, fleet.administrator])
    expect((await listExports(actor))?.map(({ byName, choice }) => [byName, choice])).toEqual(
      expect.arrayContaining([
        ["Berta", ""],
        ["Lenka", "by: revision, group: QP-B"],
      ]),
    );
  for (const actor of [fleet.berlin, fleet.bench, fleet.lead, fleet.finance, fleet.safetyOfficer]) {
    expect(await listExports(actor), actor.role).toBeNull();
    expect(await asActor(actor, (tx) => tx.exportTaken.count()), actor.role).toBe(0);
  }
  // No one leaves an entry in a dealer's name.
  const entry = { what: "x", choice: {}, byUserId: "x", byName: "x", byRole: "x", at: now };
  const asOther = { ...entry, dealerId: fleet.sydney.dealerId };
  await expect(asActor(fleet.berlin, (tx) => tx.exportTaken.createMany({ data: [asOther] }))).rejects.toThrow(
    /row-level security/,
  );
  await expectWrittenOnce(
    () => asSystem((tx) => tx.exportTaken.findMany({ orderBy: { what: "asc" } })),
    () => asSystem((tx) => tx.exportTaken.updateMany({ data: { what: "other" } })),
  );
});

test("a pack set apart, or under a legal hold, keeps its customer's contact without any incident", async () => {
  const serial = fleet.others[2] ?? fleet.unsold;
  const form = filledForm(serial, { clientKey: randomUUID(), dangerSigns: ["impact-or-water"] });
  const lodged = await lodgeReturn(fleet.berlin, form, now);
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  const { reference: of } = lodged;
  await keepSafetyContact(fleet.berlin, of, number, now);
  expect((await readSafetyContact(fleet.berlin, of))?.staysBecause).toMatch(/set apart for safety.*safety officer/);
  expect(await eraseSafetyContact(fleet.berlin, of, now)).toMatchObject({ reason: "must-stay" });
  const lower = { to: "normal", reason: "Looked at from all sides.", seenVersion: 1 } as const;
  expect(await flagSafety(fleet.safetyOfficer, of, lower, now)).toMatchObject({ ok: true });
  const hold = { to: "held", reason: "The insurer asked.", seenVersion: 0 } as const;
  expect(await setLegalHold(fleet.manager, of, hold, now)).toMatchObject({ ok: true });
  expect(await eraseSafetyContact(fleet.berlin, of, now)).toMatchObject({ reason: "must-stay" });
  const lifted = { to: "none", reason: "The insurer is done.", seenVersion: 1 } as const;
  expect(await setLegalHold(fleet.manager, of, lifted, now)).toMatchObject({ ok: true });
  expect(await eraseSafetyContact(fleet.berlin, of, now)).toEqual({ ok: true });
});

test("while an incident is open or its pack is held back a contact stays, a corrected one beside it; each change is named", async () => {
  const serial = fleet.others[1] ?? fleet.unsold;
  const lodged = await lodgeReturn(fleet.berlin, filledForm(serial, { clientKey: randomUUID() }), now);
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  const { reference: of } = lodged;
  const packId = (await asSystem((tx) => tx.pack.findUniqueOrThrow({ where: { serial } }))).id;
  await keepSafetyContact(fleet.berlin, of, number, now);
  // Held back with others for one cause.
  const set = { number: 7, by: "revision", group: "QP-A", why: "They share one cause.", createdByUserId: "m" };
  const event = { why: "Held.", byUserId: "m", byName: "Mika", byRole: "manager", at: now };
  const setId = await asSystem(async (tx) => {
    const { id } = await tx.affectedSet.create({ data: { ...set, createdByName: "Mika", createdAt: now } });
    await tx.affectedSetPack.createMany({ data: [{ setId: id, packId }] });
    await tx.affectedSetEvent.createMany({ data: [{ ...event, setId: id, sequence: 1, kind: "stopped" }] });
    return id;
  });
  expect(await eraseSafetyContact(fleet.berlin, of, now)).toMatchObject({
    reason: "must-stay",
    sentence: expect.stringMatching(/let go.*beside it/),
  });
  expect(await keepSafetyContact(fleet.berlin, of, "+49 30 7654321", now)).toEqual({ ok: true });
  expect((await readSafetyContact(fleet.berlin, of))?.own).toBe(`+49 30 7654321; before that: ${number}`);
  await asSystem((tx) => tx.affectedSetEvent.createMany({ data: [{ ...event, setId, sequence: 2, kind: "let-go" }] }));
  // An incident, whoever opened it.
  const opened = { packId, openedAt: now, openedByUserId: "s", openedByName: "Signe" };
  const incident = await asSystem((tx) => tx.incident.create({ data: { reference: "I-26-00999-X", ...opened } }));
  expect((await readSafetyContact(fleet.manager, of))?.staysBecause).toMatch(/incident.*closed/);
  expect(await eraseSafetyContact(fleet.berlin, of, now)).toMatchObject({ reason: "must-stay" });
  await asSystem((tx) => tx.return.updateMany({ where: { reference: of }, data: { status: "closed", version: 2 } }));
  const sixYears = new Date("2032-10-05T09:00:00Z");
  expect(await endContactsAsSystem(sixYears)).toBe(0);
  await asSystem((tx) =>
    tx.incidentClosing.create({
      data: { incidentId: incident.id, closedAt: now, closedByUserId: "s", closedByName: "Signe" },
      select: { incidentId: true },
    }),
  );
  // The customer rides another pack now, and that one is held back, or has an incident.
  const unit = await packInStore("QP-A", 77);
  const unitId = (await asSystem((tx) => tx.pack.findUniqueOrThrow({ where: { serial: unit } }))).id;
  await asSystem(async (tx) => {
    const { id: returnId } = await tx.return.findUniqueOrThrow({ where: { reference: of }, select: { id: true } });
    const kept = { returnId, packId: unitId, reservedAt: now, reservedByUserId: "b", reservedByName: "Bea" };
    const end = { endedAt: now, endedByUserId: "b", endedByName: "Bea", ending: "handed-over" };
    await tx.unitReservation.createMany({ data: [{ ...kept, ...end }] });
    const made = await tx.affectedSet.create({ data: { ...set, number: 8, createdByName: "Mika", createdAt: now } });
    await tx.affectedSetPack.createMany({ data: [{ setId: made.id, packId: unitId }] });
    await tx.affectedSetEvent.createMany({ data: [{ ...event, setId: made.id, sequence: 1, kind: "stopped" }] });
  });
  expect((await readSafetyContact(fleet.berlin, of))?.staysBecause).toContain(groupSerial(unit));
  expect(await eraseSafetyContact(fleet.berlin, of, now)).toMatchObject({ reason: "must-stay" });
  expect(await endContactsAsSystem(sixYears)).toBe(0);
  await asSystem(async (tx) => {
    const { id } = await tx.affectedSet.findUniqueOrThrow({ where: { number: 8 }, select: { id: true } });
    await tx.affectedSetEvent.createMany({ data: [{ ...event, setId: id, sequence: 2, kind: "let-go" }] });
  });
  expect(await endContactsAsSystem(new Date("2031-10-01T09:00:00Z"))).toBe(0);
  expect(await endContactsAsSystem(sixYears)).toBe(1);
  const view = await readSafetyContact(fleet.berlin, of);
  expect(view).toMatchObject({ isKept: false, own: null });
  expect(view?.events.map(({ kind }) => kind)).toEqual(["given", "added-beside", "ended"]);
  await expectWrittenOnce(
    () => asSystem((tx) => tx.safetyContactEvent.findMany({ orderBy: { id: "asc" } })),
    () => asSystem((tx) => tx.safetyContactEvent.updateMany({ data: { byName: "x" } })),
  );
});
