import { beforeAll, expect, test } from "vitest";
import { asActor, asSystem } from "@/lib/data/database";
import { keepPackPhoto } from "@/lib/data/packs/pack-photos";
import { giveUnitUp, keepUnitFor } from "@/lib/data/remedies/keep-unit";
import { readRemedyView } from "@/lib/data/remedies/remedy-view";
import { recordWhereUnitIs } from "@/lib/data/remedies/unit-place";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { makeMove } from "@/lib/data/returns/move-return";
import { recordRemedy, scanPack } from "@/lib/data/returns/move-track";
import { remindDealersAsSystem } from "@/lib/data/returns/ready-turn";
import { followUnitsAtDealersAsSystem } from "@/lib/data/returns/unit-turn";
import { declareTransportClass, reviveSendingLeave } from "@/lib/data/transport/declare-transport";
import { readLeaving } from "@/lib/data/transport/outgoing-sending";
import { readPackingOf, recordPackingCheck } from "@/lib/data/transport/packing-check";
import { readSheet, recordPrint } from "@/lib/data/transport/printed-sheets";
import { readTransport } from "@/lib/data/transport/transport";
import { readWaysOf } from "@/lib/data/transport/transport-ways";
import { groupSerial } from "@/lib/packs/serial";
import type { CustodyPlace } from "@/lib/returns/custody-track";
import type { MoveRequest } from "@/lib/returns/return-moves";
import type { Leg } from "@/lib/transport/leg";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { bringToBench } from "@/tests/support/bring-to-bench";
import { takeAndDecide } from "@/tests/support/decide-return";
import { declareForSending, packBox, packForSending } from "@/tests/support/pack-for-sending";
import { packInStore } from "@/tests/support/pack-in-store";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";
import { declaration } from "@/tests/unit/transport/declared";

withTestDatabase();

let fleet: SmallFleet;
let nextPack = 0;
const TO_DEALER: Leg = "to-dealer";

beforeAll(async () => {
  fleet = await createSmallFleet({ packs: 16 });
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
  const { reference } = await replaced();
  const first = await packInStore("QP-B", 1);
  const second = await packInStore("QP-B", 2);
  const declared = declaration("damaged", "not-examined", { leg: TO_DEALER });
  expect(await declareTransportClass(fleet.lead, reference, declared)).toMatchObject({ reason: "unit-missing" });
  await keepUnitFor(fleet.bench, reference, first);

  const asIs = await readTransport(fleet.lead, reference, new Date(), TO_DEALER);
  expect(asIs).toMatchObject({ serial: first, isFromStock: true, proposal: { transportClass: "not-damaged" } });
  const why = (sheetFor: string) =>
    asSystem((tx) => readLeaving(tx, reference, "to-dealer", new Date(), sheetFor)).then((found) => found.why);
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
  await packForSending(fleet, reference, new Date(), TO_DEALER);
  expect(await why(first)).toBeNull();

  // Another pack from stock is another declaration.
  await giveUnitUp(fleet.bench, reference, "Scratched case.");
  await keepUnitFor(fleet.bench, reference, second);
  expect(await why(second)).toBe("outgoing-no-class");
  expect(await why(first)).toBe("outgoing-no-class");
});

test("what becomes known after the class was declared asks for another one", async () => {
  const { reference } = await replaced();
  const unit = await packInStore("QP-B", 3);
  await keepUnitFor(fleet.bench, reference, unit);
  await packForSending(fleet, reference, new Date(), TO_DEALER);
  const why = () => asSystem((tx) => readLeaving(tx, reference, "to-dealer", new Date()));
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
  await packForSending(fleet, reference, sentOn, TO_DEALER);
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
  expect((await asSystem((tx) => readLeaving(tx, reference, "to-dealer", later))).why).toBe("outgoing-ended");
  const placeOf = async () =>
    (await asSystem((tx) => tx.track.findFirst({ where: { track: "custody", pack: { serial: unit } } })))?.state;
  expect(await placeOf()).toBe("with-carrier-out");
  const handOver = { name: "hand-back", reason: "", stated: { outgoingSerial: String(unit) } } as const;
  expect(await step(fleet.berlin, handOver, later)).toMatchObject({ ok: true });
  expect(await placeOf()).toBe("with-dealer");
});

const sound = { boxCondition: "sound", sign: "none-of-these" } as const;
const cool = { surfaceC: 20, ambientC: 20, terminalV: 54, noVoltageBecause: null };

test("a pack that was sent is not given up before it came back or is missing, and goes to nobody before it was looked at", async () => {
  const { reference } = await replaced();
  const other = await replaced();
  const unit = await packInStore("QP-B", 9);
  await keepUnitFor(fleet.bench, reference, unit);
  await packForSending(fleet, reference, new Date(), TO_DEALER);
  for (const [seenVersion, to] of (["offered", "chosen", "reserved", "sent"] as const).entries())
    await recordRemedy(fleet.bench, reference, { to, reason: "As decided.", seenVersion });
  expect(await giveUnitUp(fleet.bench, reference, "Changed our mind.")).toMatchObject({ reason: "is-under-way" });
  const place = async () => (await readRemedyView(fleet.bench, reference))?.kept?.place;
  expect(await place()).toMatchObject({ state: "with-carrier-out", next: ["with-dealer", "quarantine", "missing"] });
  const where = async (to: CustodyPlace, over: { scanned?: string; reason?: string } = {}) =>
    recordWhereUnitIs(fleet.bench, reference, {
      ...{ to, scanned: String(unit), reason: "Seen.", seenVersion: (await place())?.version ?? 0 },
      ...{ back: sound, measured: cool },
      ...over,
    });
  expect(
    await recordWhereUnitIs(fleet.finance, reference, { to: "missing", scanned: "", reason: "Lost.", seenVersion: 1 }),
  ).toMatchObject({ ok: false });
  expect(await where("missing", { scanned: "" })).toEqual({ ok: true });
  // Given up as lost it is nobody's, and no other return is promised it.
  expect(await where("quarantine", { scanned: String(other.serial) })).toMatchObject({ field: "scanned" });
  expect(await where("quarantine")).toEqual({ ok: true });
  expect(await where("store")).toMatchObject({ field: "reason" });
  expect(await giveUnitUp(fleet.bench, reference, "Came back torn open.")).toMatchObject({ ok: true });
  // Whoever reaches for it reads where it is followed until it lies in the store, and there it is moved on.
  expect(await keepUnitFor(fleet.bench, other.reference, unit)).toMatchObject({
    reason: "is-away",
    sentence: expect.stringContaining(reference),
  });
  const leftAway = async (actor = fleet.bench) => (await readRemedyView(actor, reference))?.leftAway ?? [];
  const offered = async () =>
    (await readRemedyView(fleet.bench, other.reference))?.inStore.map(({ serialShown }) => serialShown);
  expect(await leftAway()).toMatchObject([
    { serialShown: groupSerial(unit), place: { state: "quarantine", next: ["store"] } },
  ]);
  expect(await leftAway(fleet.berlin)).toEqual([]);
  expect(await offered()).not.toContain(groupSerial(unit));
  const toTheStore = {
    ...({ to: "store", scanned: String(unit), unit: String(unit) } as const),
    reason: "Looked at on all six faces, nothing found.",
    seenVersion: (await leftAway())[0]?.place.version ?? 0,
    measured: cool,
  };
  const dayAfter = new Date(Date.now() + 25 * 3_600_000);
  expect(await recordWhereUnitIs(fleet.bench, other.reference, toTheStore, dayAfter)).toMatchObject({ ok: false });
  // It lies its hours like a returned pack, is measured at both ends, and what warms up stays and is told of.
  expect(await recordWhereUnitIs(fleet.bench, reference, toTheStore)).toMatchObject({
    sentence: expect.stringMatching(/stays at least 24 hours; about 24 hours are left/),
  });
  const { measured: _none, ...unmeasured } = toTheStore;
  expect(await recordWhereUnitIs(fleet.bench, reference, unmeasured, dayAfter)).toMatchObject({ field: "surfaceC" });
  expect(await recordWhereUnitIs(fleet.bench, reference, toTheStore, dayAfter)).toEqual({ ok: true });
  expect(await leftAway()).toEqual([]);
  // It is not offered beside new ones; whoever takes it types it, and it has no class of a pack that never left.
  expect(await offered()).not.toContain(groupSerial(unit));
  expect(await keepUnitFor(fleet.bench, other.reference, unit)).toMatchObject({ ok: true });
});

test("a replacement that came back leaves on papers of its own, and as a pack that was away", async () => {
  const { reference, id } = await replaced();
  const unit = await packInStore("QP-B", 10);
  await keepUnitFor(fleet.bench, reference, unit);
  const hours = (count: number) => new Date(Date.now() + count * 3_600_000);
  await packForSending(fleet, reference, new Date(), TO_DEALER);
  for (const [seenVersion, to] of (["offered", "chosen", "reserved", "sent"] as const).entries())
    await recordRemedy(fleet.bench, reference, { to, reason: "As decided.", seenVersion });
  const view = async () => readRemedyView(fleet.bench, reference);
  const where = async (to: CustodyPlace, reason: string, at: Date) => {
    const seenVersion = (await view())?.kept?.place?.version ?? 0;
    const seen = { back: sound, measured: cool, scanned: String(unit), reason, seenVersion };
    return recordWhereUnitIs(fleet.bench, reference, { ...seen, to }, at);
  };
  const move = async (request: Omit<MoveRequest, "seenVersion">, at: Date) => {
    const { version } = await asSystem((tx) =>
      tx.return.findUniqueOrThrow({ where: { id }, select: { version: true } }),
    );
    return makeMove(fleet.bench, reference, { ...request, seenVersion: version }, at);
  };
  await move({ name: "start-work", reason: "" }, hours(1));
  await move({ name: "finish-work", reason: "Packed.", stated: { releaseSignature: "B. Enno" } }, hours(1));
  // On its way there it is the dealer's turn; come back it is ours again.
  const turn = () =>
    asSystem((tx) => tx.return.findUniqueOrThrow({ where: { id }, select: { turn: true } })).then((row) => row.turn);
  expect(await turn()).toBe("dealer");
  expect(await where("quarantine", "The carrier brought it back.", hours(2))).toEqual({ ok: true });
  expect(await turn()).toBe("maker");
  // What was sent is not sent any more, and nothing is handed over out of quarantine.
  expect((await view())?.state).toBe("reserved");
  expect((await view())?.unitStop).toMatch(/quarantine/);
  const outgoingSerial = String(unit);
  const unproven = { name: "hand-back", reason: "", stated: { outgoingSerial } } as const;
  const deliveredOn = civilDateAt(new Date(), "Europe/Berlin");
  const stated = { outgoingSerial, deliveredOn, deliveryProof: "Spedition Nord, consignment 4711." };
  const handOver = { ...unproven, stated } as const;
  expect(await move(handOver, hours(3))).toMatchObject({ reason: "unit-stopped" });
  expect(await where("store", "Box unopened, case sound on all six faces.", hours(27))).toEqual({ ok: true });
  const why = (at: Date) => asSystem((tx) => readLeaving(tx, reference, "to-dealer", at)).then((found) => found.why);
  expect(await why(hours(28))).toBe("outgoing-no-class");
  expect(await move(handOver, hours(28))).toMatchObject({ reason: "outgoing-no-class" });
  expect((await readTransport(fleet.lead, reference, hours(28), TO_DEALER))?.proposal).toMatchObject({
    safetyClass: "U",
    transportClass: "damaged",
  });
  // And it goes on: declared, packed and sent anew, it is handed over.
  await packForSending(fleet, reference, hours(29), TO_DEALER);
  const seenVersion = (await view())?.version ?? 0;
  const again = { to: "sent", reason: "Sent anew.", seenVersion } as const;
  expect(await recordRemedy(fleet.bench, reference, again, hours(30))).toMatchObject({ ok: true });
  expect(await turn()).toBe("dealer");
  // Not confirmed by the day that was set, the dealer is asked once.
  expect(await remindDealersAsSystem(hours(31))).toBe(0);
  expect(await remindDealersAsSystem(hours(29 * 24))).toBe(1);
  expect(await remindDealersAsSystem(hours(30 * 24))).toBe(0);
  // Nobody at the dealer's confirmed it: the carrier's paper does, and its day is the first of the replacement's term.
  expect(await move(unproven, hours(30 * 24))).toMatchObject({ reason: "delivery-unproven" });
  expect(await move(handOver, hours(30 * 24))).toMatchObject({ ok: true });
  const linked = await asSystem((tx) => tx.replacement.findFirstOrThrow({ where: { newPack: { serial: unit } } }));
  expect(linked.deliveredOn.toISOString().slice(0, 10)).toBe(deliveredOn);
});

test("a replacement that comes back warm, or torn open, is set apart and lies longer", async () => {
  const { reference } = await replaced();
  const unit = await packInStore("QP-B", 11);
  await keepUnitFor(fleet.bench, reference, unit);
  await packForSending(fleet, reference, new Date(), TO_DEALER);
  for (const [seenVersion, to] of (["offered", "chosen", "reserved", "sent"] as const).entries())
    await recordRemedy(fleet.bench, reference, { to, reason: "As decided.", seenVersion });
  const came = Date.now();
  const where = async (to: CustodyPlace, over: object, at: Date) => {
    const seenVersion = (await readRemedyView(fleet.bench, reference))?.kept?.place?.version ?? 0;
    const seen = { to, scanned: String(unit), reason: "Looked at on all six faces, nothing found.", seenVersion };
    return recordWhereUnitIs(fleet.bench, reference, { ...seen, ...over }, at);
  };
  expect(await where("quarantine", { measured: cool }, new Date(came))).toMatchObject({ field: "boxCondition" });
  const torn = { back: { ...sound, boxCondition: "damaged" }, measured: cool };
  expect(await where("quarantine", torn, new Date(came))).toEqual({ ok: true });
  const after = (hours: number) => new Date(came + hours * 3_600_000);
  // reference/diagnostics.md 3.6: 72 hours after an impact; goods-in counts a box that came damaged as one.
  expect(await where("store", { measured: cool }, after(30))).toMatchObject({
    sentence: expect.stringMatching(/at least 72 hours/),
  });
  expect(await where("store", { measured: { ...cool, surfaceC: 26 } }, after(73))).toMatchObject({
    sentence: expect.stringMatching(/gave an alarm/),
  });
  // Told of and set apart: it stays, cool again or not, until the safety officer has judged it.
  expect(await where("store", { measured: cool }, after(74))).toMatchObject({
    sentence: expect.stringMatching(/set apart/),
  });
  expect(await asSystem((tx) => tx.incident.count({ where: { pack: { serial: unit }, closing: null } }))).toBe(1);
});

test("a replacement goes back from the dealer under a class of that way, packed and photographed by the dealer, and never as sound", async () => {
  const { reference } = await replaced();
  const unit = await packInStore("QP-B", 12);
  const back: Leg = "unit-to-maker";
  await keepUnitFor(fleet.bench, reference, unit);
  const declared = declaration("damaged", "not-examined", { leg: back });
  // In the store it comes back from nowhere.
  expect(await declareTransportClass(fleet.lead, reference, declared)).toMatchObject({ reason: "unit-missing" });
  await packForSending(fleet, reference, new Date(), TO_DEALER);
  for (const [seenVersion, to] of (["offered", "chosen", "reserved", "sent"] as const).entries())
    await recordRemedy(fleet.bench, reference, { to, reason: "As decided.", seenVersion });
  const where = async (actor: SmallFleet["bench"], to: CustodyPlace, over: object = {}) => {
    const seenVersion = (await readRemedyView(fleet.bench, reference))?.kept?.place?.version ?? 0;
    const asked = { to, scanned: String(unit), reason: "Seen at the counter.", seenVersion, ...over };
    return recordWhereUnitIs(actor, reference, asked);
  };
  expect(await where(fleet.bench, "with-dealer")).toEqual({ ok: true });
  expect((await readRemedyView(fleet.berlin, reference))?.kept?.place?.next).toEqual(["with-carrier-in"]);
  const noClass = { sentence: expect.stringMatching(/declared the transport class/) };
  expect(await where(fleet.berlin, "with-carrier-in")).toMatchObject(noClass);
  // Its dealer sees that way, others do not; as built means nothing of a pack that was away.
  expect(await readTransport(fleet.sydney, reference, new Date(), back)).toBeNull();
  expect(await readTransport(fleet.berlin, reference, new Date(), back)).toMatchObject({
    serial: unit,
    declaration: null,
    proposal: { transportClass: "damaged", notDiagnosed: [expect.stringMatching(/sent out before/)] },
  });
  expect(await readSheet(fleet.berlin, reference, "label", back)).toMatchObject({ kind: "refused" });
  const soundly = declaration("not-damaged", "no-sign", { leg: back });
  expect(await declareTransportClass(fleet.lead, reference, soundly)).toMatchObject({ ok: false });
  expect(await declareTransportClass(fleet.berlin, reference, declared)).toMatchObject({ ok: false });
  const told = () =>
    asSystem((tx) =>
      tx.notice.count({ where: { kind: "approved", key: { contains: `${reference} replacement back` } } }),
    );
  expect(await told()).toBe(0);
  await declareForSending(fleet.lead, reference, new Date(), back);
  // The dealer at whose counter it lies hears that it may be sent, and until when.
  expect(await told()).toBe(1);
  expect(await where(fleet.berlin, "with-carrier-in")).toMatchObject({ sentence: expect.stringMatching(/label/) });
  await packBox(fleet, reference, new Date(), back);
  expect((await readPackingOf(fleet.berlin, reference, back))?.missingViews).toEqual([]);
  expect(await where(fleet.berlin, "with-carrier-in", { scanned: "no such pack" })).toMatchObject({ field: "scanned" });
  expect(await where(fleet.sydney, "with-carrier-in")).toMatchObject({ ok: false });
  expect(await where(fleet.berlin, "with-carrier-in")).toEqual({ ok: true });
  // On its way it is given up by nobody and handed over to nobody; what the dealer may not record is the bench's.
  expect(await giveUnitUp(fleet.bench, reference, "Changed our mind.")).toMatchObject({ reason: "is-under-way" });
  expect((await readRemedyView(fleet.bench, reference))?.unitStop).toMatch(/way back/);
  expect(await where(fleet.berlin, "quarantine", { back: sound, measured: cool })).toMatchObject({ ok: false });
  expect(await where(fleet.bench, "quarantine", { back: sound, measured: cool })).toEqual({ ok: true });
  // That journey is over, and its papers with it.
  expect(await readSheet(fleet.berlin, reference, "label", back)).toMatchObject({ kind: "refused" });
});

test("a replacement given up while missing and found with the dealer is followed, and comes back from there under its class", async () => {
  const { reference, id } = await replaced();
  const unit = await packInStore("QP-B", 13);
  const back: Leg = "unit-to-maker";
  // Nothing was sent in its place, so nothing of that kind comes back; no sample goes of what is not here.
  expect(await readWaysOf(fleet.bench, reference)).not.toContain(back);
  expect(await readWaysOf(fleet.bench, reference)).toContain(TO_DEALER);
  expect(await readWaysOf(fleet.berlin, reference)).toEqual([]);
  await keepUnitFor(fleet.bench, reference, unit);
  expect(await readWaysOf(fleet.bench, reference)).not.toContain(back);
  await packForSending(fleet, reference, new Date(), TO_DEALER);
  for (const [seenVersion, to] of (["offered", "chosen", "reserved", "sent"] as const).entries())
    await recordRemedy(fleet.bench, reference, { to, reason: "As decided.", seenVersion });
  const view = async () => readRemedyView(fleet.bench, reference);
  const lost = { to: "missing", scanned: "", reason: "Lost.", seenVersion: (await view())?.kept?.place?.version ?? 0 };
  expect(await recordWhereUnitIs(fleet.bench, reference, { ...lost, to: "missing" })).toEqual({ ok: true });
  expect(await giveUnitUp(fleet.bench, reference, "The carrier lost it.")).toMatchObject({ ok: true });
  const left = async () => (await view())?.leftAway[0]?.place;
  const where = async (to: CustodyPlace, over: object = {}) =>
    recordWhereUnitIs(fleet.bench, reference, {
      ...{
        to,
        scanned: String(unit),
        unit: String(unit),
        reason: "Turned up.",
        seenVersion: (await left())?.version ?? 0,
      },
      ...over,
    });
  expect(await where("with-dealer")).toEqual({ ok: true });
  expect(await left()).toMatchObject({ state: "with-dealer", next: ["with-carrier-in", "quarantine", "missing"] });
  expect(await readWaysOf(fleet.bench, reference)).toContain(back);
  // From there it travels like one that is kept: declared, labelled and packed, and on no papers of another pack.
  expect(await where("with-carrier-in")).toMatchObject({
    sentence: expect.stringMatching(/declared the transport class/),
  });
  const standsAt = () =>
    asSystem((tx) => tx.return.findUniqueOrThrow({ where: { id }, select: { turn: true, dueAt: true } }));
  // As it stands once another pack was handed over.
  const handedBack = { status: "handed-back", turn: "maker", dueAt: null, version: { increment: 1 } };
  await asSystem((tx) => tx.return.update({ where: { id }, data: handedBack }));
  await packForSending(fleet, reference, new Date(), back);
  const sending = await readTransport(fleet.berlin, reference, new Date(), back);
  expect(sending?.serial).toBe(unit);
  const until = sending?.sending.kind === "may-send" ? sending.sending.until : new Date(0);
  expect(await standsAt()).toEqual({ turn: "dealer", dueAt: until });
  const told = (kind: string) => asSystem((tx) => tx.notice.count({ where: { kind, returnId: id } }));
  const at = (days: number) => new Date(until.getTime() + days * 86_400_000);
  for (const day of [-5, -2, -1]) expect(await followUnitsAtDealersAsSystem(at(day))).toBe(0);
  expect([await told("expiry-reminder"), await told("class-needed")]).toEqual([1, 0]);
  // Nobody at the counter can mend that its time is over.
  for (const passed of [1, 0]) expect(await followUnitsAtDealersAsSystem(at(1))).toBe(passed);
  expect(await standsAt()).toEqual({ turn: "maker", dueAt: null });
  expect([await told("wait-to-send"), await told("class-needed")]).toEqual([1, 1]);
  expect(await followUnitsAtDealersAsSystem(new Date())).toBe(1);
  expect(await where("with-carrier-in", { unit: String(Number(unit) + 1) })).toMatchObject({ ok: false });
  expect(await where("with-carrier-in")).toEqual({ ok: true });
  expect(await standsAt()).toEqual({ turn: "maker", dueAt: null });
  expect(await where("quarantine", { back: sound, measured: cool })).toEqual({ ok: true });
  expect(await left()).toMatchObject({ state: "quarantine", next: ["store"] });
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
  await packForSending(fleet, reference, new Date(), "to-supplier");
  const found = await asSystem((tx) => readLeaving(tx, reference, "to-supplier", new Date(), serial));
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

test("a second journey never leaves on the papers of the first, nor on the photographs of another way", async () => {
  const serial = fleet.others[nextPack++] ?? fleet.unsold;
  const begun = new Date("2026-10-05T09:00:00Z");
  const hours = (count: number) => new Date(begun.getTime() + count * 3_600_000);
  const reference = await bringToBench(fleet, serial, begun);
  const leaving = (at: Date) =>
    asSystem((tx) => readLeaving(tx, reference, "to-dealer", at)).then((found) => found.why);
  // The class of the way in is used up by the arrival: it can neither be printed for nor revived.
  expect((await readTransport(fleet.lead, reference, hours(1)))?.declaration).toMatchObject({
    transportClass: "damaged",
  });
  await sendAway(reference, hours(2), ["store", "with-carrier-out", "with-dealer"]);
  expect((await readTransport(fleet.lead, reference, hours(3)))?.declaration).toBeNull();
  expect(await reviveSendingLeave(fleet.lead, reference, hours(3))).toMatchObject({ reason: "no-class" });
  // The way out the same: what came back from the dealer is declared, labelled and packed anew.
  expect(await leaving(hours(3))).toBe("outgoing-no-class");
  expect(await reviveSendingLeave(fleet.lead, reference, hours(3), "to-dealer")).toMatchObject({ reason: "no-class" });
  expect(await readPackingOf(fleet.lead, reference, "to-dealer", hours(3))).toMatchObject({ check: null, photos: [] });
  // And it goes on: a new class, a new label, a new box.
  await packForSending(fleet, reference, hours(4), "to-dealer");
  expect(await leaving(hours(4))).toBeNull();
});

test("a dealer photographs the box on its own way to us alone, and no other way counts it", async () => {
  const { reference, id } = await replaced();
  const unit = await packInStore("QP-B", 5);
  await keepUnitFor(fleet.bench, reference, unit);
  await declareForSending(fleet.lead, reference, new Date(), "to-dealer");
  const jpeg = new Uint8Array(8);
  const view = "packed-open";
  const forWayOut = await keepPackPhoto(fleet.berlin, reference, view, jpeg, { leg: "to-dealer" });
  expect(forWayOut).toMatchObject({ ok: false, sentence: expect.stringContaining("no such return") });
  // Nothing is to be sent to us on this return, so there is no box either.
  const forWayIn = await keepPackPhoto(fleet.berlin, reference, view, jpeg);
  expect(forWayIn).toMatchObject({ ok: false, sentence: expect.stringContaining("may not be sent now") });
  const declared = await asSystem((tx) =>
    tx.classDeclaration.findFirstOrThrow({ where: { returnId: id, leg: "to-dealer" }, select: { id: true } }),
  );
  const sha = "0".repeat(64);
  const data = {
    returnId: id,
    declarationId: declared.id,
    view,
    originalSha256: sha,
    keptSha256: sha,
    widthPixels: 900,
    heightPixels: 700,
    sharpness: 9,
    takenAt: new Date(),
    takenByUserId: "x",
    takenByName: "x",
  };
  await expect(asActor(fleet.berlin, (tx) => tx.packPhoto.create({ data }))).rejects.toThrow(/row-level security/);
});

/** Declared, packed and scanned out and on, from the bench. */
async function sendAway(reference: string, at: Date, places: readonly CustodyPlace[]): Promise<void> {
  await packForSending(fleet, reference, at, "to-dealer");
  const later = new Date(at.getTime() + 60_000);
  for (const to of places) {
    const { version } = await asSystem((tx) =>
      tx.track.findFirstOrThrow({
        where: { track: "custody", pack: { returns: { some: { reference } } } },
        select: { version: true },
      }),
    );
    const scan = { scanned: "", cannotBeRead: true };
    const moved = await scanPack(
      fleet.bench,
      reference,
      { to, reason: "It goes back.", seenVersion: version, scan },
      later,
    );
    expect(moved, to).toMatchObject({ ok: true });
  }
}
