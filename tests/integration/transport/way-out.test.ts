import { beforeAll, expect, test } from "vitest";
import { asActor, asSystem } from "@/lib/data/database";
import { declareTransportClass } from "@/lib/data/declare-transport";
import { giveUnitUp, keepUnitFor } from "@/lib/data/keep-unit";
import { lodgeReturn } from "@/lib/data/lodge-return";
import { makeMove } from "@/lib/data/move-return";
import { recordRemedy, scanPack } from "@/lib/data/move-track";
import { readLeaving } from "@/lib/data/outgoing-sending";
import { readPackingOf, recordPackingCheck } from "@/lib/data/packing-check";
import { readSheet, recordPrint } from "@/lib/data/printed-sheets";
import { readTransport } from "@/lib/data/transport";
import type { MoveRequest } from "@/lib/returns/return-moves";
import type { Leg } from "@/lib/transport/leg";
import { takeAndDecide } from "@/tests/support/decide-return";
import { packForSending } from "@/tests/support/pack-for-sending";
import { packInStore } from "@/tests/support/pack-in-store";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";
import { declaration } from "@/tests/unit/transport/declared";

withTestDatabase();

let fleet: SmallFleet;
let nextPack = 0;
const TO_DEALER: Leg = "to-dealer";

beforeAll(async () => {
  fleet = await createSmallFleet();
});

async function replaced() {
  const serial = fleet.others[nextPack++] ?? fleet.unsold;
  const lodged = await lodgeReturn(fleet.berlin, filledForm(serial), new Date());
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  await takeAndDecide(fleet, lodged.reference, {
    remedy: "replace",
    confirmedFault: "weak-cell",
    reason: "Group 7 holds two thirds of the others.",
    replacementRevisionCode: "QP-B",
  });
  const { id, packId } = await asSystem((tx) =>
    tx.return.findUniqueOrThrow({ where: { reference: lodged.reference }, select: { id: true, packId: true } }),
  );
  return { reference: lodged.reference, id, packId, serial };
}

test("the pack that goes out in its place has a class, a label and a box of its own, packed by the bench", async () => {
  const { reference, id } = await replaced();
  const first = await packInStore("QP-B", 1);
  const second = await packInStore("QP-B", 2);
  const declared = declaration("damaged", "not-examined", { leg: TO_DEALER });
  expect(await declareTransportClass(fleet.lead, reference, declared)).toMatchObject({ reason: "unit-missing" });
  await keepUnitFor(fleet.bench, reference, first);

  const asIs = await readTransport(fleet.lead, reference, new Date(), TO_DEALER);
  expect(asIs).toMatchObject({ serial: first, isFromStock: true, proposal: { transportClass: "not-damaged" } });
  const why = (sheetFor: string) =>
    asSystem((tx) => readLeaving(tx, { id, reference }, "to-dealer", new Date(), sheetFor)).then((found) => found.why);
  expect(await why(first)).toBe("outgoing-no-class");
  // Nobody but those who declare; without the adviser's confirmation it is no sound pack in anybody's name.
  for (const actor of [fleet.bench, fleet.berlin])
    expect(await declareTransportClass(actor, reference, declared)).toMatchObject({ ok: false });
  const sound = declaration("not-damaged", "no-sign", { leg: TO_DEALER });
  expect(await declareTransportClass(fleet.lead, reference, sound)).toMatchObject({ reason: "rules-not-confirmed" });
  expect(await declareTransportClass(fleet.lead, reference, declared)).toEqual({ ok: true });
  expect(await why(first)).toBe("outgoing-no-label");

  // The ways out are the house's: the dealer neither sees nor prints nor ticks them, in the program or past it.
  expect(await readTransport(fleet.berlin, reference, new Date(), TO_DEALER)).toBeNull();
  expect(await readSheet(fleet.berlin, reference, "label", TO_DEALER)).toBeNull();
  // The way to us has no class by this one.
  expect((await readTransport(fleet.lead, reference))?.declaration).toBeNull();
  expect(await readSheet(fleet.bench, reference, "label", TO_DEALER)).toMatchObject({
    kind: "printable",
    transport: { serial: first, orders: { kind: "pack", unNumber: "UN 3480", packing: { instruction: "P908" } } },
  });
  expect(await readSheet(fleet.bench, reference, "used-battery-statement", TO_DEALER)).toMatchObject({
    kind: "refused",
  });
  expect(await recordPrint(fleet.bench, reference, "label", new Date(), TO_DEALER)).toEqual({ ok: true });
  expect(await why(first)).toBe("outgoing-not-packed");
  const orders = (await readTransport(fleet.bench, reference, new Date(), TO_DEALER))?.orders;
  const ticked = orders?.kind === "pack" ? orders.checklist.map((_point, index) => index) : [];
  const tick = { ticked, seenDeclarations: 1, leg: TO_DEALER };
  expect(await recordPackingCheck(fleet.berlin, reference, tick)).toMatchObject({ ok: false });
  const declarationId = (await readTransport(fleet.lead, reference, new Date(), TO_DEALER))?.declaration?.id ?? "";
  const check = { declarationId, points: ["All."], checkedByUserId: "x", checkedByName: "x", checkedAt: new Date() };
  await expect(asActor(fleet.berlin, (tx) => tx.packingCheck.create({ data: check }))).rejects.toThrow(
    /row-level security/,
  );
  expect(await recordPackingCheck(fleet.bench, reference, tick)).toEqual({ ok: true });
  expect((await readPackingOf(fleet.bench, reference, TO_DEALER))?.check).not.toBeNull();
  expect(await why(first)).toBe("outgoing-not-packed");
  await packForSending(fleet.lead, reference, new Date(), TO_DEALER);
  expect(await why(first)).toBeNull();

  // Another pack from stock is another declaration.
  await giveUnitUp(fleet.bench, reference, "Scratched case.");
  await keepUnitFor(fleet.bench, reference, second);
  expect(await why(second)).toBe("outgoing-no-class");
  expect(await why(first)).toBe("outgoing-no-class");
});

test("what becomes known after the class was declared asks for another one", async () => {
  const { reference, id } = await replaced();
  const unit = await packInStore("QP-B", 3);
  await keepUnitFor(fleet.bench, reference, unit);
  await packForSending(fleet.lead, reference, new Date(), TO_DEALER);
  const why = () => asSystem((tx) => readLeaving(tx, { id, reference }, "to-dealer", new Date()));
  expect((await why()).why).toBeNull();
  await asSystem(async (tx) => {
    const { id: packId } = await tx.pack.findUniqueOrThrow({ where: { serial: unit }, select: { id: true } });
    const opened = { openedByUserId: "x", openedByName: "x" };
    await tx.track.createMany({ data: [{ track: "safety", packId, state: "caution", version: 1, ...opened }] });
  });
  expect((await why()).why).toBe("outgoing-evidence-changed");
  expect(await readSheet(fleet.bench, reference, "label", TO_DEALER)).toMatchObject({ kind: "refused" });
});

test("a pack that was sent and has arrived is handed over, though its leave ran out on the way", async () => {
  const { reference, id } = await replaced();
  const unit = await packInStore("QP-B", 4);
  await keepUnitFor(fleet.bench, reference, unit);
  const sentOn = new Date();
  await packForSending(fleet.lead, reference, sentOn, TO_DEALER);
  for (const [seenVersion, to] of (["offered", "chosen", "reserved", "sent"] as const).entries()) {
    const answer = await recordRemedy(fleet.bench, reference, { to, reason: "As decided.", seenVersion }, sentOn);
    expect(answer, to).toMatchObject({ ok: true });
  }
  const step = async (actor: SmallFleet["bench"], request: Omit<MoveRequest, "seenVersion">, at: Date) => {
    const { version } = await asSystem((tx) =>
      tx.return.findUniqueOrThrow({ where: { id }, select: { version: true } }),
    );
    return makeMove(actor, reference, { ...request, seenVersion: version }, at);
  };
  expect(await step(fleet.bench, { name: "start-work", reason: "" }, sentOn)).toMatchObject({ ok: true });
  const packed = { name: "finish-work", reason: "Packed.", stated: { releaseSignature: "B. Enno" } } as const;
  expect(await step(fleet.bench, packed, sentOn)).toMatchObject({ ok: true });
  const later = new Date(sentOn.getTime() + 20 * 86_400_000);
  // Sent now it would have to be declared or allowed anew.
  expect((await asSystem((tx) => readLeaving(tx, { id, reference }, "to-dealer", later))).why).toBe("outgoing-ended");
  const handOver = { name: "hand-back", reason: "", stated: { outgoingSerial: String(unit) } } as const;
  expect(await step(fleet.berlin, handOver, later)).toMatchObject({ ok: true });
});

test("a sample goes to a supplier under a class, to a named address, and never as sound", async () => {
  const { reference, id, packId, serial } = await replaced();
  await asSystem((tx) =>
    tx.track.createMany({
      data: [{ track: "custody", packId, state: "store", version: 1, openedByUserId: "x", openedByName: "x" }],
    }),
  );
  const request = {
    to: "supplier",
    reason: "For the cell maker to open.",
    seenVersion: 1,
    scan: { scanned: serial, cannotBeRead: false },
  } as const;
  expect(await scanPack(fleet.bench, reference, request)).toMatchObject({ reason: "outgoing-no-class" });
  // The class of the way to the dealer is another pack's.
  const back = { ...request, to: "with-carrier-out" } as const;
  expect(await scanPack(fleet.bench, reference, back)).toMatchObject({ reason: "outgoing-no-class" });
  const nowhere = declaration("damaged", "not-examined", { leg: "to-supplier" });
  expect(await declareTransportClass(fleet.lead, reference, nowhere)).toMatchObject({ reason: "consignee-missing" });
  await packForSending(fleet.lead, reference, new Date(), "to-supplier");
  const found = await asSystem((tx) => readLeaving(tx, { id, reference }, "to-supplier", new Date(), serial));
  expect(found.why).toBeNull();
  await expect(
    asSystem(
      (tx) => tx.$executeRaw`
      INSERT INTO "ClassDeclaration" ("id", "returnId", "leg", "consignee", "sequence", "transportClass", "proposedClass",
        "proposedSafety", "criteria", "inEquipment", "reason", "ruleVersion", "ruleFingerprint", "declaredByUserId",
        "declaredByName", "declaredByRole", "declaredAt")
      SELECT gen_random_uuid(), "returnId", "leg", "consignee", 9, 'not-damaged', 'not-damaged', 'C', "criteria",
        "inEquipment", "reason", "ruleVersion", "ruleFingerprint", "declaredByUserId", "declaredByName",
        "declaredByRole", "declaredAt" FROM "ClassDeclaration" WHERE "returnId" = ${id}::uuid`,
    ),
  ).rejects.toThrow(/sample_never_sound/);
  expect(await scanPack(fleet.bench, reference, request)).toMatchObject({ ok: true });
  const step = await asSystem((tx) => tx.trackMove.findFirst({ where: { returnId: id, to: "supplier" } }));
  expect(step?.facts).toMatchObject({ declarationId: found.declarationId, transportClass: "damaged" });
});
