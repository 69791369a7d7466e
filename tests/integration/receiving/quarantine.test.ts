import sharp from "sharp";
import { beforeAll, expect, test } from "vitest";
import { asActor, asSystem } from "@/lib/data/database";
import { lodgeReturn } from "@/lib/data/lodge-return";
import { makeMove } from "@/lib/data/move-return";
import { keepPackPhoto, openPackPhoto } from "@/lib/data/pack-photos";
import { readQuarantineBoard } from "@/lib/data/quarantine-board";
import { readQuarantineMet } from "@/lib/data/quarantine-met";
import { quarantinePlaceSchema, setQuarantinePlace } from "@/lib/data/quarantine-places";
import { readReceivedPack } from "@/lib/data/received-pack";
import {
  placeInQuarantine,
  recordArrival,
  recordWatch,
  releaseFromQuarantine,
  settleIdentity,
} from "@/lib/data/receiving";
import { arrivalSchema } from "@/lib/receiving/arrival.schema";
import { packedViews } from "@/lib/receiving/pack-faces";
import { packForSending } from "@/tests/support/pack-for-sending";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

const now = new Date("2026-10-05T09:00:00Z");
const after = (hours: number) => new Date(now.getTime() + hours * 3_600_000);
let fleet: SmallFleet;
let nextPack = 0;

beforeAll(async () => {
  fleet = await createSmallFleet();
  const settings = quarantinePlaceSchema.parse({
    code: "q1",
    whereItIs: "Yard, behind the wall",
    maxPacks: 3,
    // One pack of the small fleet is rated 40 Ah at 58 V: 2.32 kWh.
    maxEnergyKwh: 5,
    minimumHours: 24,
    overdueAfterHours: 72,
    emergencyNumber: "112",
    onCall: "Porter",
    extinguishing: "Hose at the gate",
    assemblyPoint: "Gate",
  });
  expect(await setQuarantinePlace(fleet.bench, settings)).toEqual({ ok: false });
  expect(await setQuarantinePlace(fleet.safetyOfficer, settings)).toEqual({ ok: true });
});

async function arrived(scanned?: string): Promise<string> {
  const serial = fleet.others[nextPack++] ?? fleet.unsold;
  const answer = await lodgeReturn(fleet.berlin, filledForm(serial), now);
  if (!answer.ok) throw new Error(JSON.stringify(answer));
  const arrival = arrivalSchema.parse({ scanned: scanned ?? serial, boxCondition: "sound", noSigns: true });
  expect(await recordArrival(fleet.bench, answer.reference, arrival, now)).toMatchObject({ ok: true });
  return answer.reference;
}

const watch = (hours: number, surfaceC: number) => ({ at: after(hours), surfaceC, ambientC: 20, terminalV: 54 });

test("a pack lies its hours, is followed, and then goes to the bench; before that it does not", async () => {
  const reference = await arrived();
  expect(await placeInQuarantine(fleet.bench, reference, "Q1", now)).toEqual({ ok: true });
  expect(await placeInQuarantine(fleet.bench, reference, "Q1", now)).toMatchObject({ reason: "lies-already" });
  expect(await releaseFromQuarantine(fleet.bench, reference, after(2))).toMatchObject({ reason: "too-early" });
  expect(await releaseFromQuarantine(fleet.bench, reference, after(25))).toMatchObject({ reason: "not-watched" });
  await recordWatch(fleet.bench, reference, watch(0.1, 20));
  await recordWatch(fleet.bench, reference, watch(24.2, 21));
  const met = () =>
    asSystem(async (tx) => {
      const { id } = await tx.return.findUniqueOrThrow({ where: { reference }, select: { id: true } });
      return readQuarantineMet(tx, id);
    });
  expect(await met()).toBe(false);
  expect(await releaseFromQuarantine(fleet.bench, reference, after(25))).toEqual({ ok: true });
  expect(await met()).toBe(true);
  expect(await releaseFromQuarantine(fleet.bench, reference, after(26))).toMatchObject({ reason: "not-there" });
});

test("a pack that came in a second time lies again before it goes to the bench, also while it lies nowhere yet", async () => {
  const reference = await arrived();
  await placeInQuarantine(fleet.bench, reference, "Q1", now);
  await recordWatch(fleet.bench, reference, watch(0.1, 20));
  await recordWatch(fleet.bench, reference, watch(24.2, 21));
  expect(await releaseFromQuarantine(fleet.bench, reference, after(25))).toEqual({ ok: true });
  const again = arrivalSchema.parse({ scanned: "unreadable", boxCondition: "sound", noSigns: true });
  expect(await recordArrival(fleet.bench, reference, again, after(30))).toMatchObject({ ok: true });
  await asSystem(async (tx) => {
    const { id, packId, version } = await tx.return.findUniqueOrThrow({ where: { reference } });
    await tx.return.update({ where: { id }, data: { status: "at-the-works", version: version + 1 } });
    const opened = { openedByUserId: "u", openedByName: "U" };
    await tx.track.create({ data: { track: "custody", packId, state: "quarantine", ...opened } });
  });
  const test = { name: "start-test", reason: "", seenVersion: 2, stated: { quarantineMet: true } } as const;
  expect(await makeMove(fleet.bench, reference, test, after(31))).toMatchObject({ reason: "quarantine-not-met" });
  expect(await settleIdentity(fleet.bench, reference, "Label torn; board identity read.")).toEqual({ ok: true });
  expect(await placeInQuarantine(fleet.bench, reference, "Q1", after(31))).toEqual({ ok: true });
  await recordWatch(fleet.bench, reference, watch(31.1, 20));
  await recordWatch(fleet.bench, reference, watch(55.5, 20));
  expect(await releaseFromQuarantine(fleet.bench, reference, after(56))).toEqual({ ok: true });
  // The pack goes along with the case, to the bench.
  expect(await makeMove(fleet.bench, reference, test, after(57))).toMatchObject({ ok: true });
  const custody = await asSystem((tx) => tx.track.findFirst({ where: { pack: { returns: { some: { reference } } } } }));
  expect(custody).toMatchObject({ track: "custody", state: "bench", version: 1 });
});

test("one entry at goods-in records the pack and moves its return; what cannot move leaves no entry", async () => {
  const onItsWay = async (serial: typeof fleet.unsold, scanned?: string) => {
    const lodged = await lodgeReturn(fleet.berlin, filledForm(serial), now);
    if (!lodged.ok) throw new Error(JSON.stringify(lodged));
    const { reference } = lodged;
    await packForSending(fleet.lead, reference, now);
    for (const [actor, name] of [
      [fleet.bench, "take"],
      [fleet.lead, "approve-return"],
      [fleet.berlin, "hand-to-carrier"],
    ] as const) {
      const seenVersion = ["take", "approve-return", "hand-to-carrier"].indexOf(name) + 1;
      const moved = await makeMove(actor, reference, { name, reason: "As agreed.", seenVersion }, now);
      expect(moved, name).toMatchObject({ ok: true });
    }
    return {
      reference,
      arrival: arrivalSchema.parse({ scanned: scanned ?? serial, boxCondition: "sound", noSigns: true }),
    };
  };
  const stateOf = (reference: string) =>
    asSystem(async (tx) => {
      const { status, pack, moves, _count } = await tx.return.findUniqueOrThrow({
        where: { reference },
        select: {
          status: true,
          pack: { select: { tracks: { where: { track: "custody" }, select: { state: true } } } },
          moves: { orderBy: { sequence: "desc" }, take: 1, select: { facts: true } },
          _count: { select: { arrivals: true } },
        },
      });
      return { status, place: pack.tracks[0]?.state, facts: moves[0]?.facts, arrivals: _count.arrivals };
    });
  const { reference, arrival } = await onItsWay(fleet.soldInBerlin);
  const both = await Promise.all([1, 2].map(() => recordArrival(fleet.bench, reference, arrival, now)));
  const heard = both.filter(({ ok }) => ok).length;
  expect(heard).toBeGreaterThan(0);
  expect(await stateOf(reference)).toMatchObject({ status: "at-the-works", place: "quarantine", arrivals: heard });
  const wrong = await onItsWay(fleet.unsold, fleet.soldInSydney);
  expect(await recordArrival(fleet.bench, wrong.reference, wrong.arrival, now)).toMatchObject({ ok: true });
  expect(await stateOf(wrong.reference)).toMatchObject({
    status: "at-the-works",
    facts: { stated: { scannedSerial: fleet.soldInSydney, mismatchNote: expect.stringContaining("wrong box") } },
  });
});

test("a warming pack gives an alarm on the board and stays, whatever its hours", async () => {
  const reference = await arrived();
  await placeInQuarantine(fleet.bench, reference, "Q1", now);
  await recordWatch(fleet.bench, reference, watch(0.1, 20));
  await recordWatch(fleet.bench, reference, watch(24.5, 24));
  const board = await readQuarantineBoard(fleet.bench, after(80));
  expect(board?.alarms[0]).toMatchObject({ reference, grave: true, sentence: expect.stringContaining("4.0 K") });
  expect(board?.alarms.some(({ sentence }) => sentence.includes("longer than"))).toBe(true);
  expect(await releaseFromQuarantine(fleet.bench, reference, after(80))).toMatchObject({ reason: "alarm" });
});

test("a place takes no pack beyond its energy, also when two come at once", async () => {
  const [first, second] = [await arrived(), await arrived()];
  const answers = await Promise.all([
    placeInQuarantine(fleet.bench, first, "Q1", now),
    placeInQuarantine(fleet.bench2, second, "Q1", now),
  ]);
  expect(answers.filter(({ ok }) => ok)).toHaveLength(1);
  expect(answers.find(({ ok }) => !ok)).toMatchObject({ reason: "too-much-energy" });
  expect(await placeInQuarantine(fleet.bench, first, "Q9", now)).toMatchObject({ ok: false });
});

test("another pack in the box is recorded as it was scanned and holds the return until somebody settles it", async () => {
  const reference = await arrived(fleet.soldInSydney);
  const received = await readReceivedPack(fleet.bench, reference, now);
  expect(received?.arrival).toMatchObject({ identity: "other-pack", scanned: fleet.soldInSydney, settlement: null });
  expect(
    await settleIdentity(fleet.bench, reference, "The labels of two boxes were exchanged; both corrected."),
  ).toEqual({
    ok: true,
  });
  expect(await settleIdentity(fleet.bench, reference, "Once more, to be sure.")).toMatchObject({ reason: "settled" });
});

test("a dealer and finance see nothing of goods-in, in the program or past it", async () => {
  const reference = await arrived();
  for (const actor of [fleet.berlin, fleet.sydney, fleet.finance]) {
    expect(await readReceivedPack(actor, reference)).toBeNull();
    expect(await readQuarantineBoard(actor)).toBeNull();
    const seen = await asActor(actor, async (tx) => [
      await tx.arrival.count(),
      await tx.quarantineStay.count(),
      await tx.watchMeasurement.count(),
      // Those of the packed box are its dealer's own.
      await tx.packPhoto.count({ where: { view: { notIn: [...packedViews] } } }),
      await tx.quarantinePlace.count(),
    ]);
    expect(seen).toEqual([0, 0, 0, 0, 0]);
  }
  await expect(
    asActor(fleet.bench, (tx) => tx.quarantinePlace.updateMany({ data: { maxPacks: 99 } })).then(({ count }) => count),
  ).resolves.toBe(0);
});

test("a photograph loses its place and camera, keeps the hash of the original, and is served to the bench only", async () => {
  const reference = await arrived();
  const original = await sharp({
    create: {
      width: 1600,
      height: 1200,
      channels: 3,
      noise: { type: "gaussian", mean: 120, sigma: 40 },
      background: "#888",
    },
  })
    .jpeg()
    .withExif({ IFD0: { Make: "A camera", Copyright: "Somebody" }, IFD3: { GPSLatitude: "52/1 30/1 0/1" } })
    .toBuffer();
  expect((await sharp(original).metadata()).exif).toBeDefined();
  const kept = await keepPackPhoto(fleet.bench, reference, "label", original, now);
  if (!kept.ok) throw new Error(kept.sentence);
  expect(kept.photo.legibility.kind).toBe("fair");
  const stream = await openPackPhoto(fleet.bench, kept.photo.id);
  const bytes = Buffer.from(await new Response(stream).arrayBuffer());
  const metadata = await sharp(bytes).metadata();
  expect([metadata.format, metadata.width, metadata.exif, metadata.xmp, metadata.icc]).toEqual([
    "jpeg",
    1600,
    undefined,
    undefined,
    undefined,
  ]);
  const { createHash } = await import("node:crypto");
  expect(kept.photo.originalSha256).toBe(createHash("sha256").update(original).digest("hex"));
  for (const actor of [fleet.berlin, fleet.finance]) expect(await openPackPhoto(actor, kept.photo.id)).toBeNull();
  expect(await openPackPhoto(fleet.bench, "../../etc/passwd")).toBeNull();
});

test("what is no photograph is refused with a sentence: text, a drawing, a broken file, an enormous picture", async () => {
  const reference = await arrived();
  const svg = Buffer.from(
    '<svg xmlns="http://www.w3.org/2000/svg" width="2000" height="2000"><rect width="9" height="9"/></svg>',
  );
  const broken = (
    await sharp({ create: { width: 900, height: 900, channels: 3, background: "#123" } })
      .jpeg()
      .toBuffer()
  ).subarray(0, 300);
  const enormous = await sharp({ create: { width: 9000, height: 9000, channels: 3, background: "#123" } })
    .png()
    .toBuffer();
  for (const bytes of [Buffer.from("hello"), svg, broken, enormous]) {
    expect(await keepPackPhoto(fleet.bench, reference, "top", bytes)).toMatchObject({ ok: false });
  }
  expect(await keepPackPhoto(fleet.bench, reference, "underside", broken)).toMatchObject({ ok: false });
  expect(await keepPackPhoto(fleet.berlin, reference, "top", enormous)).toMatchObject({ ok: false });
});
