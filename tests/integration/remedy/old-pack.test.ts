import { beforeAll, expect, test } from "vitest";
import { asSystem } from "@/lib/data/database";
import { recordArrival } from "@/lib/data/receiving/receiving";
import { orderOldPack, readOldPack, recycleOldPack, sendOldPack } from "@/lib/data/remedies/old-pack";
import { readOldPackChangesSince } from "@/lib/data/returns/changes-since";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { readTransport } from "@/lib/data/transport/transport";
import { arrivalSchema } from "@/lib/receiving/arrival.schema";
import { orderForOldPackSchema } from "@/lib/returns/old-pack.schema";
import { takeAndDecide } from "@/tests/support/decide-return";
import { packForSending } from "@/tests/support/pack-for-sending";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";
import { expectWrittenOnce } from "@/tests/support/written-once";

withTestDatabase();

const now = new Date("2026-10-05T09:00:00Z");
let fleet: SmallFleet;
const order = (given: "send-in" | "recycle-there", dueOn = "2026-10-20") =>
  orderForOldPackSchema.parse({ order: given, dueOn, why: "It is wanted for the analysis of its lot." });

beforeAll(async () => {
  fleet = await createSmallFleet();
});

async function replaced(serial: SmallFleet["unsold"] | undefined): Promise<string> {
  if (serial === undefined) throw new Error("the fleet has too few packs");
  const lodged = await lodgeReturn(fleet.berlin, filledForm(serial), now);
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  await takeAndDecide(fleet, lodged.reference, {
    remedy: "replace",
    confirmedFault: "weak-cell",
    reason: "Group 7 holds two thirds of the others.",
    replacementRevisionCode: "QP-B",
  });
  return lodged.reference;
}

const placeOf = (reference: string) =>
  asSystem(async (tx) => {
    const track = await tx.track.findFirst({
      where: { track: "custody", pack: { returns: { some: { reference } } } },
      select: { state: true, moves: { orderBy: { sequence: "desc" }, take: 1, select: { reason: true } } },
    });
    return { place: track?.state, why: track?.moves[0]?.reason };
  });

test("the old pack of a replacement is called in with a day and a letter, leaves only declared and packed, and comes in", async () => {
  const [serial] = fleet.others;
  const reference = await replaced(serial);
  expect(await readOldPack(fleet.berlin, reference, now)).toMatchObject({ ordered: null, whyItStays: null });
  for (const actor of [fleet.berlin, fleet.finance])
    expect(await orderOldPack(actor, reference, order("send-in"), 0, now)).toMatchObject({ ok: false });
  expect(await orderOldPack(fleet.lead, reference, order("send-in", "2026-10-04"), 0, now)).toMatchObject({
    field: "dueOn",
  });
  expect(await orderOldPack(fleet.lead, reference, order("send-in"), 0, now)).toEqual({ ok: true });
  const told = { reference, kind: "old-pack", dealerId: fleet.berlin.dealerId };
  expect(await asSystem((tx) => tx.notice.count({ where: told }))).toBe(1);
  // Without class, label and packing it stays, whatever was ordered.
  expect(await sendOldPack(fleet.berlin, reference, 1, now)).toMatchObject({
    sentence: expect.stringContaining("class"),
  });
  await packForSending(fleet, reference, now);
  // The label can be had although the return was decided long ago.
  expect((await readTransport(fleet.berlin, reference, now))?.sending).toMatchObject({ kind: "may-send" });
  expect(await recycleOldPack(fleet.berlin, reference, "Fetched by somebody.", 1, now)).toMatchObject({ ok: false });
  expect(await sendOldPack(fleet.sydney, reference, 1, now)).toMatchObject({ ok: false });
  expect(await sendOldPack(fleet.berlin, reference, 1, now)).toEqual({ ok: true });
  expect(await placeOf(reference)).toMatchObject({ place: "with-carrier-in" });
  const arrival = arrivalSchema.parse({ scanned: serial, boxCondition: "sound", noSigns: true });
  expect(await recordArrival(fleet.bench, reference, arrival, now)).toMatchObject({ ok: true });
  expect(await placeOf(reference)).toMatchObject({ place: "quarantine" });
  expect(await readOldPack(fleet.berlin, reference, now)).toBeNull();
});

test("an old pack that stays is given to a local recycler, with the certificate in the record of its place", async () => {
  const reference = await replaced(fleet.others[1]);
  expect(await orderOldPack(fleet.bench, reference, order("send-in"), 0, now)).toEqual({ ok: true });
  const later = new Date("2026-10-06T09:00:00Z");
  // Who had the page open from before that order looks first; so does a dealer who acts on an order that is over.
  const stale = { ok: false, isStale: true };
  expect(await orderOldPack(fleet.lead, reference, order("recycle-there"), 0, later)).toMatchObject(stale);
  expect(await orderOldPack(fleet.bench, reference, order("recycle-there"), 1, later)).toEqual({ ok: true });
  expect(await sendOldPack(fleet.berlin, reference, 1, later)).toMatchObject(stale);
  expect(await readOldPackChangesSince(fleet.berlin, reference, 1)).toEqual({
    was: "Send it in, by 20 October 2026",
    now: "Stays there: give it to a local recycler, by 20 October 2026",
    changes: [expect.stringMatching(/^Stays there.*, by 20 October 2026, by /)],
  });
  const late = new Date("2026-10-25T09:00:00Z");
  expect(await readOldPack(fleet.berlin, reference, late)).toMatchObject({
    ordered: { order: "recycle-there", isOverdue: true },
    whyItStays: null,
  });
  const certificate = "Fetched by Altmetall Nord, certificate 2026-1187.";
  expect(await recycleOldPack(fleet.berlin, reference, certificate, 2, late)).toEqual({ ok: true });
  expect(await placeOf(reference)).toEqual({ place: "recycler", why: certificate });
  expect(await recycleOldPack(fleet.berlin, reference, certificate, 2, late)).toMatchObject({ ok: false });
  await expectWrittenOnce(
    () => asSystem((tx) => tx.oldPackOrder.findMany({ orderBy: { id: "asc" } })),
    () => asSystem((tx) => tx.oldPackOrder.updateMany({ data: { why: "Another reason." } })),
  );
});
