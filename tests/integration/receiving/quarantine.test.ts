import sharp from "sharp";
import { beforeAll, expect, test } from "vitest";
import type { Actor } from "@/lib/access/actor";
import { asActor, asSystem } from "@/lib/data/database";
import { keepPackPhoto, openPackPhoto } from "@/lib/data/packs/pack-photos";
import { endFoundStay } from "@/lib/data/receiving/end-found-stay";
import { readQuarantineBoard } from "@/lib/data/receiving/quarantine-board";
import { readQuarantineMet } from "@/lib/data/receiving/quarantine-met";
import { quarantinePlaceSchema, setQuarantinePlace } from "@/lib/data/receiving/quarantine-places";
import { readReceivedPack } from "@/lib/data/receiving/received-pack";
import { placeInQuarantine, recordArrival, recordWatch, releaseFromQuarantine } from "@/lib/data/receiving/receiving";
import { restartWatch } from "@/lib/data/receiving/restart-watch";
import { settleIdentity } from "@/lib/data/receiving/settle-identity";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { makeMove } from "@/lib/data/returns/move-return";
import { flagSafety, scanPack } from "@/lib/data/returns/move-track";
import { openIncidentsOfReturn, readIncident } from "@/lib/data/safety/incidents";
import { closeIncident, decideOnClock } from "@/lib/data/safety/keep-incident";
import { makeSerial } from "@/lib/packs/serial";
import { arrivalSchema } from "@/lib/receiving/arrival.schema";
import { packedViews, sixFaces } from "@/lib/receiving/pack-faces";
import { takeAndDecide } from "@/tests/support/decide-return";
import { lieInQuarantine } from "@/tests/support/lie-in-quarantine";
import { declareForSending, packBox, packForSending } from "@/tests/support/pack-for-sending";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";
import { expectWrittenOnce } from "@/tests/support/written-once";

withTestDatabase();

const now = new Date("2026-10-05T09:00:00Z");
const after = (hours: number) => new Date(now.getTime() + hours * 3_600_000);
const noPhotographs = { noFacesBecause: "Photographs are tried further below." };
const sameAfterAll = (how: string) => ({ outcome: "same-pack", how }) as const;
let fleet: SmallFleet;
let nextPack = 0;

beforeAll(async () => {
  fleet = await createSmallFleet({ packs: 20 });
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

async function flagOf(reference: string) {
  const track = await asSystem((tx) =>
    tx.track.findFirst({
      where: { track: "safety", pack: { returns: { some: { reference } } } },
      select: { state: true, moves: { orderBy: { sequence: "desc" }, take: 1, select: { reason: true } } },
    }),
  );
  return { state: track?.state, reason: track?.moves[0]?.reason };
}

/** Every clock decided by the safety officer, and the incident closed. */
async function closeIncidentOf(reference: string, at: Date): Promise<void> {
  const [incident = ""] = await openIncidentsOfReturn(fleet.bench, reference);
  const reason = "Counsel's letter goes through every element of it.";
  const decision = { decision: "not-reported", until: undefined, reason, lawyerReference: "Letter 12" } as const;
  const seen = await readIncident(fleet.safetyOfficer, incident, at);
  const seenEntries = seen?.entries.at(-1)?.sequence ?? 0;
  for (const { clock } of seen?.clocks ?? [])
    await decideOnClock(fleet.safetyOfficer, incident, { ...decision, clockId: clock.id, seenEntries }, at);
  expect(await closeIncident(fleet.safetyOfficer, incident, reason, at)).toMatchObject({ ok: true });
}

/** The roles of the house that were called about a danger, in the order of their names. */
async function calledFor(reference: string) {
  const where = { reference, kind: "danger-raised", audienceRole: { not: null } };
  const rows = await asSystem((tx) => tx.notice.findMany({ where, orderBy: { audienceRole: "asc" } }));
  return rows.map(({ audienceRole }) => audienceRole);
}

const unreadable = { scanned: "", cannotBeRead: true };

const watch = (hours: number, surfaceC: number) => ({
  at: after(hours),
  surfaceC,
  ambientC: 20,
  terminalV: 54,
  noVoltageBecause: null,
});

test("a pack lies its hours, is followed, and then goes to the bench; before that it does not", async () => {
  const reference = await arrived();
  expect(await placeInQuarantine(fleet.bench, reference, "Q1", now)).toEqual({ ok: true });
  expect(await placeInQuarantine(fleet.bench, reference, "Q1", now)).toMatchObject({ reason: "lies-already" });
  expect(await releaseFromQuarantine(fleet.bench, reference, noPhotographs, after(2))).toMatchObject({
    reason: "too-early",
  });
  expect(await releaseFromQuarantine(fleet.bench, reference, noPhotographs, after(25))).toMatchObject({
    reason: "not-watched",
  });
  await recordWatch(fleet.bench, reference, watch(0.1, 20));
  await recordWatch(fleet.bench, reference, watch(1.1, 20));
  await recordWatch(fleet.bench, reference, watch(24.2, 21));
  expect(await isMet(reference)).toBe(false);
  const unsaid = await releaseFromQuarantine(fleet.bench, reference, { noFacesBecause: null }, after(25));
  expect(unsaid).toMatchObject({ reason: "faces-missing", sentence: expect.stringContaining("bottom") });
  expect(await releaseFromQuarantine(fleet.bench, reference, noPhotographs, after(25))).toEqual({ ok: true });
  expect(await isMet(reference)).toBe(true);
  expect(await releaseFromQuarantine(fleet.bench, reference, noPhotographs, after(26))).toMatchObject({
    reason: "not-there",
  });
});

test("a pack that is sent in a second time is received again, and lies again before it goes to the bench", async () => {
  const reference = await arrived();
  // Nobody awaited it: the pack is written down as here, and its return goes on from where it stood.
  expect(await whereItIs(reference)).toEqual({ status: "sent-in", place: "quarantine" });
  expect(await readReceivedPack(fleet.bench, reference)).toMatchObject({ comes: "here" });
  await placeInQuarantine(fleet.bench, reference, "Q1", now);
  await recordWatch(fleet.bench, reference, watch(0.1, 20));
  await recordWatch(fleet.bench, reference, watch(1.1, 20));
  await recordWatch(fleet.bench, reference, watch(24.2, 21));
  const early = { to: "store", reason: "Room on the shelf.", seenVersion: 1, scan: unreadable } as const;
  expect(await scanPack(fleet.bench, reference, early, after(25))).toMatchObject({ reason: "quarantine-not-met" });
  await photographFaces(reference, now);
  expect(await releaseFromQuarantine(fleet.bench, reference, { noFacesBecause: null }, after(25))).toEqual({
    ok: true,
  });
  const unclassed = { to: "with-carrier-out", reason: "It goes back.", seenVersion: 1, scan: unreadable } as const;
  expect(await scanPack(fleet.bench, reference, unclassed, after(25))).toMatchObject({ reason: "outgoing-no-class" });
  await packForSending(fleet, reference, after(25), "to-dealer");
  for (const [index, to] of (["with-carrier-out", "with-dealer"] as const).entries()) {
    const scan = { to, reason: "Not called for: it goes back.", seenVersion: index + 1, scan: unreadable };
    expect(await scanPack(fleet.bench, reference, scan, after(26))).toMatchObject({ ok: true });
    // What the carrier brings back comes in at goods-in, or nobody photographs and watches it.
    const back = { ...scan, to: "quarantine", seenVersion: scan.seenVersion + 1 } as const;
    expect(await scanPack(fleet.bench, reference, back, after(26))).toMatchObject({
      reason: to === "with-carrier-out" ? "at-goods-in" : "not-allowed",
    });
  }
  await sendIn(reference, 1, after(27));
  expect(await readReceivedPack(fleet.bench, reference)).toMatchObject({
    comes: "expected",
    arrival: { readings: {} },
  });
  const again = arrivalSchema.parse({ scanned: "unreadable", boxCondition: "sound", noSigns: true });
  expect(await recordArrival(fleet.bench, reference, again, after(30))).toMatchObject({ ok: true });
  expect(await whereItIs(reference)).toEqual({ status: "at-the-works", place: "quarantine" });
  const test = { name: "start-test", reason: "", seenVersion: 5, stated: { quarantineMet: true } } as const;
  expect(await makeMove(fleet.bench, reference, test, after(31))).toMatchObject({ reason: "quarantine-not-met" });
  expect(await settleIdentity(fleet.bench, reference, sameAfterAll("Label torn; board identity read."))).toEqual({
    ok: true,
  });
  expect(await placeInQuarantine(fleet.bench, reference, "Q1", after(31))).toEqual({ ok: true });
  await recordWatch(fleet.bench, reference, watch(30.1, 20));
  await recordWatch(fleet.bench, reference, watch(31.1, 20));
  await recordWatch(fleet.bench, reference, watch(55.5, 20));
  // The faces as it came the first time say nothing of how it came now.
  expect(await releaseFromQuarantine(fleet.bench, reference, { noFacesBecause: null }, after(56))).toMatchObject({
    reason: "faces-missing",
  });
  expect(await releaseFromQuarantine(fleet.bench, reference, noPhotographs, after(56))).toEqual({ ok: true });
  // The pack goes along with the case, to the bench.
  expect(await makeMove(fleet.bench, reference, test, after(57))).toMatchObject({ ok: true });
  expect(await whereItIs(reference)).toEqual({ status: "under-test", place: "bench" });
});

test("a pack that nobody announced is received from wherever its return stood before", async () => {
  const serial = fleet.soldInSydney;
  const lodged = await lodgeReturn(fleet.sydney, filledForm(serial), now);
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  const { reference } = lodged;
  await makeMove(fleet.bench, reference, { name: "take", reason: "", seenVersion: 1 }, now);
  await declareForSending(fleet.lead, reference, now);
  await makeMove(fleet.lead, reference, { name: "approve-return", reason: "To be tested.", seenVersion: 2 }, now);
  const arrival = (scanned: string) => arrivalSchema.parse({ scanned, boxCondition: "sound", noSigns: true });
  // Another pack under a return that awaits none moves neither of them.
  expect(await recordArrival(fleet.bench, reference, arrival(fleet.unsold), now)).toMatchObject({ ok: true });
  expect(await whereItIs(reference)).toEqual({ status: "return-approved", place: undefined });
  expect(await readReceivedPack(fleet.bench, reference)).toMatchObject({ comes: "unannounced" });
  expect(await recordArrival(fleet.bench, reference, arrival(serial), after(1))).toMatchObject({ ok: true });
  expect(await whereItIs(reference)).toEqual({ status: "at-the-works", place: "quarantine" });
});

test("a pack handed back is with its dealer again, and its next return can be sent, received and decided", async () => {
  const serial = fleet.others[nextPack++] ?? fleet.unsold;
  const lodge = async (at: Date) => {
    const lodged = await lodgeReturn(fleet.berlin, filledForm(serial), at);
    if (!lodged.ok) throw new Error(JSON.stringify(lodged));
    return lodged.reference;
  };
  const first = await lodge(now);
  const asIs = { remedy: "return-as-is", confirmedFault: "unknown", reason: "Nothing shows in the log." } as const;
  await takeAndDecide(fleet, first, asIs, now);
  const arrival = arrivalSchema.parse({ scanned: serial, boxCondition: "sound", noSigns: true });
  expect(await recordArrival(fleet.bench, first, arrival, now)).toMatchObject({ ok: true });
  expect(await whereItIs(first)).toEqual({ status: "decided", place: "quarantine" });
  const lying = { name: "ready-without-work", reason: "", seenVersion: 5, stated: { packIsSafe: true } } as const;
  expect(await makeMove(fleet.bench, first, lying, after(1))).toMatchObject({ reason: "quarantine-not-met" });
  await lieInQuarantine(first, now);
  const safe = { packIsSafe: true };
  const outgoingSerial = String(serial);
  await makeMove(
    fleet.bench,
    first,
    { name: "ready-without-work", reason: "", seenVersion: 5, stated: safe },
    after(1),
  );
  const handBack = { name: "hand-back", reason: "", seenVersion: 6, stated: { outgoingSerial } } as const;
  expect(await makeMove(fleet.berlin, first, handBack, after(2))).toMatchObject({ reason: "outgoing-no-class" });
  await packForSending(fleet, first, after(2), "to-dealer");
  expect(await makeMove(fleet.berlin, first, handBack, after(2))).toMatchObject({ ok: true });
  expect(await whereItIs(first)).toEqual({ status: "handed-back", place: "with-dealer" });
  const toCustomer = { to: "with-customer", reason: "Fetched.", seenVersion: 2, scan: unreadable } as const;
  const wrongPack = { ...toCustomer, scan: { scanned: fleet.soldInSydney, cannotBeRead: false } };
  expect(await scanPack(fleet.berlin, first, wrongPack, after(3))).toMatchObject({ reason: "scan-other-pack" });
  const unscanned = { ...toCustomer, scan: { scanned: "", cannotBeRead: false } };
  expect(await scanPack(fleet.berlin, first, unscanned, after(3))).toMatchObject({ reason: "scan-missing" });
  expect(await scanPack(fleet.berlin, first, toCustomer, after(3))).toMatchObject({ ok: true });
  // A stray pack scanned under it later, and settled as such, moves nothing of a pack that its customer has.
  const stranger = makeSerial({ model: "QP", buildYear: 2024, buildWeek: 2, sequence: 900 });
  const stray = arrivalSchema.parse({ scanned: stranger, boxCondition: "sound", noSigns: true });
  expect(await recordArrival(fleet.bench, first, stray, after(3))).toMatchObject({ ok: true });
  const another = { outcome: "other-pack", how: "The label of the pack, read by two people." } as const;
  expect(await settleIdentity(fleet.bench, first, another, after(3))).toEqual({ ok: true });
  expect(await whereItIs(first)).toEqual({ status: "handed-back", place: "with-customer" });
  const second = await lodge(after(4));
  expect(await whereItIs(second)).toEqual({ status: "sent-in", place: "with-dealer" });
  await sendIn(second, 1, after(5));
  // The depot does not take it: it is with its dealer again, and nothing it was declared or packed for counts any more.
  const back = { name: "come-back", reason: "The depot refused the box.", seenVersion: 4 } as const;
  expect(await makeMove(fleet.berlin, second, back, after(5.5))).toMatchObject({ ok: true });
  expect(await whereItIs(second)).toEqual({ status: "return-approved", place: "with-dealer" });
  // Nobody at the counter can do anything now: the desk declares a class first, and only then the dealer reads that it may be sent.
  const turn = async () => (await asSystem((tx) => tx.return.findUniqueOrThrow({ where: { reference: second } }))).turn;
  expect(await turn()).toBe("maker");
  expect(await noticesTo(fleet.lead, second)).toContain("class-needed");
  const hand = { name: "hand-to-carrier", reason: "", seenVersion: 5 } as const;
  expect(await makeMove(fleet.berlin, second, hand, after(6))).toMatchObject({ reason: "class-missing" });
  await packForSending(fleet, second, after(6));
  expect(await turn()).toBe("dealer");
  expect(await makeMove(fleet.berlin, second, hand, after(6))).toMatchObject({ ok: true });
  expect(await recordArrival(fleet.bench, second, arrival, after(6))).toMatchObject({ ok: true });
  expect(await whereItIs(second)).toEqual({ status: "at-the-works", place: "quarantine" });
});

/** The six faces as rows: that a photograph is cleaned and kept is tried further below. */
function photographFaces(reference: string, takenAt: Date) {
  const sha = "0".repeat(64);
  const picture = { originalSha256: sha, keptSha256: sha, widthPixels: 900, heightPixels: 700, sharpness: 9 };
  const by = { takenAt, takenByUserId: "u", takenByName: "U" };
  return asSystem(async (tx) => {
    const { id: returnId } = await tx.return.findUniqueOrThrow({ where: { reference }, select: { id: true } });
    await tx.packPhoto.createMany({ data: sixFaces.map((view) => ({ returnId, view, ...picture, ...by })) });
  });
}

async function noticesTo(dealer: Actor, reference: string): Promise<string[]> {
  const where = { reference, dealerId: dealer.dealerId };
  return (await asSystem((tx) => tx.notice.findMany({ where, select: { kind: true } }))).map(({ kind }) => kind);
}

/** Taken, allowed, packed and handed to the carrier, from a version on. */
async function sendIn(reference: string, version: number, at: Date): Promise<void> {
  await declareForSending(fleet.lead, reference, at);
  for (const [index, [actor, name]] of (
    [
      [fleet.bench, "take"],
      [fleet.lead, "approve-return"],
      [fleet.berlin, "hand-to-carrier"],
    ] as const
  ).entries()) {
    if (name === "hand-to-carrier") await packBox(fleet, reference, at);
    const moved = await makeMove(actor, reference, { name, reason: "As agreed.", seenVersion: version + index }, at);
    expect(moved, name).toMatchObject({ ok: true });
  }
}

function isMet(reference: string): Promise<boolean | null> {
  return asSystem(async (tx) => {
    const { id } = await tx.return.findUniqueOrThrow({ where: { reference }, select: { id: true } });
    return readQuarantineMet(tx, id);
  });
}

async function whereItIs(reference: string) {
  const tracks = { where: { track: "custody" }, select: { state: true } };
  const { status, pack } = await asSystem((tx) =>
    tx.return.findUniqueOrThrow({
      where: { reference },
      select: { status: true, pack: { select: { tracks } } },
    }),
  );
  return { status, place: pack.tracks[0]?.state };
}

test("one entry at goods-in records the pack and moves its return; what cannot move leaves no entry", async () => {
  const onItsWay = async (serial: typeof fleet.unsold, scanned?: string) => {
    const lodged = await lodgeReturn(fleet.berlin, filledForm(serial), now);
    if (!lodged.ok) throw new Error(JSON.stringify(lodged));
    const { reference } = lodged;
    await sendIn(reference, 1, now);
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
  expect(await releaseFromQuarantine(fleet.bench, reference, noPhotographs, after(80))).toMatchObject({
    reason: "alarm",
  });
  expect(await flagOf(reference)).toMatchObject({ state: "do-not-move", reason: expect.stringContaining("4.0 K") });
  expect(await calledFor(reference)).toEqual(["safety-officer", "service-lead"]);
  // The same alarm again is no news.
  await recordWatch(fleet.bench, reference, watch(25, 24));
  expect(await calledFor(reference)).toEqual(["safety-officer", "service-lead"]);

  const why = "A radiator stood behind it; moved, looked at from all sides.";
  expect(await restartWatch(fleet.bench, reference, why, after(80))).toMatchObject({ reason: "alarm" });
  expect(await restartWatch(fleet.safetyOfficer, reference, why, after(80))).toEqual({ ok: true });
  expect(await restartWatch(fleet.safetyOfficer, reference, why, after(80.1))).toMatchObject({
    reason: "watch-goes-on",
  });
  expect((await readReceivedPack(fleet.bench, reference, after(80.1)))?.arrival).toMatchObject({
    verdict: { kind: "nothing-measured" },
    restarts: [{ reason: why, byName: fleet.safetyOfficer.name }],
  });
  await recordWatch(fleet.bench, reference, watch(80.2, 20));
  await recordWatch(fleet.bench, reference, watch(104.5, 20));
  const lower = { to: "normal", reason: "It was the radiator.", seenVersion: 1 } as const;
  // The alarm made an incident, which holds the pack until the safety officer has closed it.
  expect(await releaseFromQuarantine(fleet.bench, reference, noPhotographs, after(105))).toMatchObject({
    reason: "frozen",
  });
  await closeIncidentOf(reference, after(105));
  expect(await releaseFromQuarantine(fleet.bench, reference, noPhotographs, after(105))).toMatchObject({
    reason: "set-apart",
  });
  expect(await flagSafety(fleet.safetyOfficer, reference, lower, after(105))).toMatchObject({ ok: true });
  // The measurement after an hour was missed: whoever receives packs begins anew, and measures all three.
  expect(await releaseFromQuarantine(fleet.bench, reference, noPhotographs, after(105))).toMatchObject({
    reason: "measurement-missed",
    sentence: expect.stringContaining("after 1 h"),
  });
  expect(await restartWatch(fleet.finance, reference, why, after(105))).toMatchObject({ reason: "not-found" });
  expect(await restartWatch(fleet.bench, reference, "Nobody was here in the evening.", after(105))).toEqual({
    ok: true,
  });
  for (const hours of [105.1, 106.1, 129.2]) await recordWatch(fleet.bench, reference, watch(hours, 20));
  expect(await releaseFromQuarantine(fleet.bench, reference, noPhotographs, after(130))).toEqual({ ok: true });
  // It goes back, and its energy counts in the place again.
  expect(await placeInQuarantine(fleet.bench, reference, "Q1", after(131))).toEqual({ ok: true });
});

test("what an alarm meant is kept in the database by the safety officer's office alone, and stays as written", async () => {
  const { id: arrivalId } = await asSystem((tx) => tx.arrival.findFirstOrThrow({ select: { id: true } }));
  const by = { byUserId: "u", byName: "U", restartedAt: now };
  const row = { arrivalId, afterAlarm: true, reason: "Nothing to see here at all.", ...by };
  for (const actor of [fleet.bench, fleet.lead, fleet.berlin])
    await expect(asActor(actor, (tx) => tx.watchRestart.createMany({ data: [row] }))).rejects.toThrow(
      /row-level security/,
    );
  await expectWrittenOnce(
    () => asSystem((tx) => tx.watchRestart.findMany()),
    () => asSystem((tx) => tx.watchRestart.deleteMany()),
  );
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

test("a larger pack found in the box of a smaller one counts with its own energy", async () => {
  const larger = await asSystem(async (tx) => {
    const omit = { id: true, openCircuit: true, diagnosis: true } as const;
    const small = await tx.packModel.findFirstOrThrow({ where: { code: "QP" }, omit });
    const data = { ...small, code: "RM", name: "Larger", ratedCapacityAh: 100 };
    return tx.packModel.create({ data, select: { code: true } });
  });
  const serial = makeSerial({ model: larger.code, buildYear: 2024, buildWeek: 2, sequence: 1 });
  const reference = await arrived(serial);
  // 100 Ah at 58 V are 5.8 kWh, more than the 5 kWh of Q1; the pack lodged would fit.
  expect(await placeInQuarantine(fleet.bench, reference, "Q1", now)).toMatchObject({ reason: "too-much-energy" });
  expect((await readReceivedPack(fleet.bench, reference, now))?.energyKwh).toBeCloseTo(5.8, 6);
  expect(
    await settleIdentity(fleet.bench, reference, sameAfterAll("The label was that of the box beside it.")),
  ).toEqual({
    ok: true,
  });
  expect((await readReceivedPack(fleet.bench, reference, now))?.energyKwh).toBeCloseTo(2.32, 6);
  await asSystem((tx) => tx.packModel.delete({ where: { code: larger.code } }));
});

test("another pack in the box is recorded as it was scanned and holds the return until somebody settles it", async () => {
  const reference = await arrived(fleet.soldInSydney);
  const received = await readReceivedPack(fleet.bench, reference, now);
  expect(received?.arrival).toMatchObject({ identity: "other-pack", scanned: fleet.soldInSydney, settlement: null });
  expect(
    await settleIdentity(fleet.bench, reference, sameAfterAll("The label was that of the box beside it.")),
  ).toEqual({
    ok: true,
  });
  expect(await settleIdentity(fleet.bench, reference, sameAfterAll("Once more, to be sure."))).toMatchObject({
    reason: "settled",
  });
});

test("another pack that is another pack leaves its return waiting, the lodged one where it was, and goes on under its own", async () => {
  const serial = fleet.others[nextPack++] ?? fleet.unsold;
  const swapped = fleet.others[nextPack++] ?? fleet.unsold;
  const lodge = async (of: typeof serial) => {
    const lodged = await lodgeReturn(fleet.berlin, filledForm(of), now);
    if (!lodged.ok) throw new Error(JSON.stringify(lodged));
    return lodged.reference;
  };
  const [reference, own] = [await lodge(serial), await lodge(swapped)];
  await sendIn(reference, 1, now);
  await makeMove(fleet.bench, own, { name: "take", reason: "", seenVersion: 1 }, now);
  await declareForSending(fleet.lead, own, now);
  await makeMove(fleet.lead, own, { name: "approve-return", reason: "To be tested.", seenVersion: 2 }, now);
  const arrival = (scanned: string) => arrivalSchema.parse({ scanned, boxCondition: "sound", noSigns: true });
  expect(await recordArrival(fleet.bench, reference, arrival(swapped), after(1))).toMatchObject({ ok: true });
  expect(await whereItIs(reference)).toEqual({ status: "at-the-works", place: "quarantine" });
  expect(await placeInQuarantine(fleet.bench, reference, await emptyPlace(), after(1))).toEqual({ ok: true });
  const other = { outcome: "other-pack", how: "The dealer packed the wrong one." } as const;
  expect(await settleIdentity(fleet.bench, reference, other, after(2))).toEqual({ ok: true });
  // The wrong box used up label and ticks: the right pack gets its own before anybody hands it to a carrier.
  expect(await whereItIs(reference)).toEqual({ status: "return-approved", place: "with-carrier-in" });
  const hand = { name: "hand-to-carrier", reason: "", seenVersion: 6 } as const;
  expect(await makeMove(fleet.berlin, reference, hand, after(3))).toMatchObject({ reason: "class-missing" });
  expect(await noticesTo(fleet.berlin, reference)).toContain("wrong-pack-came");
  await packForSending(fleet, reference, after(3));
  expect(await makeMove(fleet.berlin, reference, hand, after(3))).toMatchObject({ ok: true });
  expect(await recordArrival(fleet.bench, reference, arrival(serial), after(50))).toMatchObject({ ok: true });
  expect(await whereItIs(reference)).toEqual({ status: "at-the-works", place: "quarantine" });

  // The found one lies here, and the page of either return says where it goes on.
  expect(await whereItIs(own)).toEqual({ status: "return-approved", place: "quarantine" });
  const found = (await readReceivedPack(fleet.bench, reference))?.found[0];
  expect(found).toMatchObject({ ownReference: own, isKnown: true, stay: { placedAt: after(1) } });
  const stayId = found?.stay?.id ?? "";
  const gone = { stayId, because: "Fetched by somebody in a van." };
  expect(await endFoundStay(fleet.bench, reference, gone, after(51))).toMatchObject({ reason: "has-a-record" });
  expect(await readReceivedPack(fleet.bench, own)).toMatchObject({ comes: "found", arrival: null });
  // Unwatched under its own return, whatever anybody ticks there.
  expect(await isMet(own)).toBe(false);
  expect(await recordArrival(fleet.bench, own, arrival(swapped), after(51))).toMatchObject({ ok: true });
  expect(await whereItIs(own)).toEqual({ status: "at-the-works", place: "quarantine" });
  expect((await readReceivedPack(fleet.bench, reference))?.found).toEqual([]);
  // Its place went along with the time since it was laid there, and it is watched and let go like any other.
  expect((await readReceivedPack(fleet.bench, own))?.arrival?.stay).toMatchObject({
    placedAt: after(1),
    releasedAt: null,
  });
  for (const hours of [51.1, 52.1, 75.5]) await recordWatch(fleet.bench, own, watch(hours, 20));
  expect(await releaseFromQuarantine(fleet.bench, own, noPhotographs, after(76))).toEqual({ ok: true });
  expect(await isMet(own)).toBe(true);
});

test("a found pack that no record knows leaves its place with the words where it went", async () => {
  const serial = fleet.others[nextPack++] ?? fleet.unsold;
  const lodged = await lodgeReturn(fleet.berlin, filledForm(serial), now);
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  const { reference } = lodged;
  await sendIn(reference, 1, now);
  const unknown = arrivalSchema.parse({ scanned: "no label", boxCondition: "sound", noSigns: true });
  expect(await recordArrival(fleet.bench, reference, unknown, after(1))).toMatchObject({ ok: true });
  expect(await placeInQuarantine(fleet.bench, reference, await emptyPlace(), after(1))).toEqual({ ok: true });
  const other = { outcome: "other-pack", how: "No label, and not one of our cases." } as const;
  expect(await settleIdentity(fleet.bench, reference, other, after(2))).toEqual({ ok: true });
  const [found] = (await readReceivedPack(fleet.bench, reference))?.found ?? [];
  expect(found).toMatchObject({ serialShown: null, ownReference: null, isKnown: false });
  // Under this return it is let go to no bench: it is not its pack.
  expect(await releaseFromQuarantine(fleet.bench, reference, noPhotographs, after(80))).toMatchObject({
    reason: "identity-open",
  });
  const gone = { stayId: found?.stay?.id ?? "", because: "Fetched by the dealer it belongs to, note 17." };
  expect(await endFoundStay(fleet.berlin, reference, gone, after(3))).toMatchObject({ reason: "not-found" });
  expect(await endFoundStay(fleet.bench, reference, gone, after(3))).toEqual({ ok: true });
  expect((await readReceivedPack(fleet.bench, reference))?.found).toEqual([]);
});

/** A place of its own, so that no test fills it up for another. */
async function emptyPlace(): Promise<string> {
  const code = `E${nextPack}`;
  const settings = quarantinePlaceSchema.parse({
    code,
    whereItIs: "Shed",
    maxPacks: 3,
    maxEnergyKwh: 20,
    minimumHours: 24,
    overdueAfterHours: 99,
    emergencyNumber: "112",
    onCall: "Porter",
    extinguishing: "Hose at the gate",
    assemblyPoint: "Gate",
  });
  expect(await setQuarantinePlace(fleet.safetyOfficer, settings)).toEqual({ ok: true });
  return code;
}

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

let received: Promise<string> | undefined;
/** One return for all that is tried with photographs. */
function photographed(): Promise<string> {
  received ??= arrived();
  return received;
}

test("a photograph loses its place and camera, keeps the hash of the original, and is served to the bench only", async () => {
  const reference = await photographed();
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
  const kept = await keepPackPhoto(fleet.bench, reference, "label", original, { now });
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
  const reference = await photographed();
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
