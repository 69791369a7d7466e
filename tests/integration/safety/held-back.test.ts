import { beforeAll, expect, test } from "vitest";
import type { Actor } from "@/lib/access/actor";
import { asActor, asSystem } from "@/lib/data/database";
import { noticePath } from "@/lib/data/notices/notices";
import { keepUnitFor } from "@/lib/data/remedies/keep-unit";
import { lendPack } from "@/lib/data/remedies/lend-pack";
import { whyKeptUnitIsStopped } from "@/lib/data/remedies/replacement-units";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { makeMove } from "@/lib/data/returns/move-return";
import { loadStanding } from "@/lib/data/returns/return-standing";
import { beginAffectedSet, listAffectedSets, stepAffectedSet } from "@/lib/data/safety/affected-sets";
import { holdPackAgain, letPackGo, readHeldBackPack } from "@/lib/data/safety/let-pack-go";
import { listOwnHeldBack } from "@/lib/data/safety/own-held-back";
import { tellOfStopsAsSystem } from "@/lib/data/safety/tell-of-stops";
import { readTransport } from "@/lib/data/transport/transport";
import { groupSerial } from "@/lib/packs/serial";
import { newSetSchema, type SetStep } from "@/lib/reliability/affected-set";
import { ownSteps } from "@/lib/returns/next-steps";
import { takeAndDecide } from "@/tests/support/decide-return";
import { declareForSending } from "@/tests/support/pack-for-sending";
import { packInStore } from "@/tests/support/pack-in-store";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";
import { expectWrittenOnce } from "@/tests/support/written-once";

withTestDatabase();

const now = new Date("2026-10-05T09:00:00Z");
let fleet: SmallFleet;

beforeAll(async () => {
  fleet = await createSmallFleet();
});

const setOf = (as: "proposed" | "frozen" | "stopped", group = "QP-B") =>
  newSetSchema.parse({ by: "revision", group, why: "Leads came loose on two packs.", as });
const stepOf = (number: number, step: SetStep["step"], seenEvents: number): SetStep => ({
  number,
  step,
  seenEvents,
  why: "Looked at with the cell maker.",
});

test("who proposes, freezes, holds back and lets go, by role", async () => {
  for (const actor of [fleet.bench, fleet.berlin, fleet.finance, fleet.administrator]) {
    for (const as of ["proposed", "frozen", "stopped"] as const)
      expect(await beginAffectedSet(actor, setOf(as), now), actor.role).toMatchObject({ reason: "not-allowed" });
    expect(await listAffectedSets(actor)).toBeNull();
  }
  for (const as of ["frozen", "stopped"] as const)
    expect(await beginAffectedSet(fleet.lead, setOf(as), now)).toMatchObject({ reason: "not-allowed" });
  expect(await beginAffectedSet(fleet.manager, setOf("frozen", "QP-Z"), now)).toMatchObject({
    reason: "names-no-pack",
  });

  const proposed = await beginAffectedSet(fleet.lead, setOf("proposed", "QP-A"), now);
  if (!proposed.ok) throw new Error(proposed.sentence);
  const { number } = proposed;
  // The lead proposed and settles nothing; nothing is held back that is not frozen.
  expect(await stepAffectedSet(fleet.lead, stepOf(number, "frozen", 1), now)).toMatchObject({ reason: "not-allowed" });
  expect(await stepAffectedSet(fleet.manager, stepOf(number, "stopped", 1), now)).toMatchObject({
    reason: "not-from-here",
  });
  const both = await Promise.all(
    [fleet.manager, fleet.safetyOfficer].map((actor) => stepAffectedSet(actor, stepOf(number, "frozen", 1), now)),
  );
  expect(both.filter(({ ok }) => ok)).toHaveLength(1);
  expect(await stepAffectedSet(fleet.safetyOfficer, stepOf(number, "stopped", 2), now)).toMatchObject({ ok: true });
  expect(await stepAffectedSet(fleet.lead, stepOf(number, "let-go", 3), now)).toMatchObject({ reason: "not-allowed" });
  expect(await stepAffectedSet(fleet.safetyOfficer, stepOf(number, "let-go", 3), now)).toMatchObject({
    reason: "same-person",
  });
  expect(await stepAffectedSet(fleet.manager, stepOf(number, "let-go", 3), now)).toMatchObject({ ok: true });
  const set = (await listAffectedSets(fleet.lead))?.find((one) => one.number === number);
  expect(set?.events.map(({ kind }) => kind)).toEqual(["proposed", "frozen", "stopped", "let-go"]);
  expect(set?.standing).toMatchObject({ state: "frozen", isStopped: false });
  expect(set?.steps).toEqual([]);

  // Past the program: the lead writes no event but a proposal, a dealer and finance see and write none.
  const { id } = await asSystem((tx) => tx.affectedSet.findUniqueOrThrow({ where: { number }, select: { id: true } }));
  const event = { setId: id, sequence: 9, why: "Past the program.", byUserId: "x", byName: "x", byRole: "x", at: now };
  await expect(
    asActor(fleet.lead, (tx) => tx.affectedSetEvent.createMany({ data: [{ ...event, kind: "stopped" }] })),
  ).rejects.toThrow(/row-level security/);
  for (const actor of [fleet.berlin, fleet.finance])
    expect(await asActor(actor, (tx) => tx.affectedSetPack.count())).toBe(0);
  // Nobody puts one more pack into a set that was made.
  const serial = await packInStore("QP-A", 49);
  const { id: packId } = await asSystem((tx) => tx.pack.findUniqueOrThrow({ where: { serial } }));
  for (const actor of [fleet.lead, fleet.manager, fleet.safetyOfficer])
    await expect(
      asActor(actor, (tx) => tx.affectedSetPack.createMany({ data: [{ setId: id, packId }] })),
    ).rejects.toThrow(/names its packs once/);
  await expectWrittenOnce(
    () => asSystem((tx) => tx.affectedSetEvent.findMany({ orderBy: { sequence: "asc" } })),
    () => asSystem((tx) => tx.affectedSetEvent.updateMany({ data: { why: "other words" } })),
  );
});

test("what is held back goes out neither as a replacement nor once it is kept, until it is let go; what is built later is not in it", async () => {
  const [kept, other] = [await packInStore("QP-B", 41), await packInStore("QP-B", 42)];
  const lodged = await lodgeReturn(fleet.berlin, filledForm(fleet.others[0] ?? fleet.unsold), now);
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  const { reference } = lodged;
  await takeAndDecide(fleet, reference, {
    remedy: "replace",
    confirmedFault: "weak-cell",
    reason: "Group 7 holds two thirds of the others.",
    replacementRevisionCode: "QP-B",
  });
  expect(await keepUnitFor(fleet.bench, reference, kept)).toMatchObject({ ok: true });
  const { id } = await asSystem((tx) => tx.return.findUniqueOrThrow({ where: { reference }, select: { id: true } }));
  const stop = () => asSystem((tx) => whyKeptUnitIsStopped(tx, id));
  expect(await stop()).toBeNull();
  const began = await beginAffectedSet(fleet.safetyOfficer, setOf("stopped"), now);
  if (!began.ok) throw new Error(began.sentence);
  expect(await stop()).toContain(`held back with set ${began.number}`);
  const second = await lodgeReturn(fleet.berlin, filledForm(fleet.others[1] ?? fleet.unsold), now);
  if (!second.ok) throw new Error(JSON.stringify(second));
  await takeAndDecide(fleet, second.reference, {
    remedy: "replace",
    confirmedFault: "weak-cell",
    reason: "Group 7 holds two thirds of the others.",
    replacementRevisionCode: "QP-B",
  });
  expect(await keepUnitFor(fleet.bench, second.reference, other)).toMatchObject({ reason: "is-stopped" });
  expect(await keepUnitFor(fleet.bench, second.reference, await packInStore("QP-B", 43))).toMatchObject({ ok: true });
  await stepAffectedSet(fleet.manager, stepOf(began.number, "let-go", 2), now);
  expect(await stop()).toBeNull();
});

test("a returned pack of a held-back set goes back to nobody until somebody else lets this one go, and those in charge are told", async () => {
  const serial = fleet.others[3] ?? fleet.unsold;
  const lodged = await lodgeReturn(fleet.berlin, filledForm(serial), now);
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  const { reference } = lodged;
  await takeAndDecide(
    fleet,
    reference,
    { remedy: "return-as-is", confirmedFault: "unknown", reason: "Rides well." },
    now,
  );
  const lentFor = await lodgeReturn(fleet.berlin, filledForm(fleet.others[4] ?? fleet.unsold), now);
  if (!lentFor.ok) throw new Error(JSON.stringify(lentFor));
  expect(await lendPack(fleet.berlin, lentFor.reference, fleet.unsold, now)).toEqual({ ok: true });

  const held = await beginAffectedSet(fleet.manager, setOf("stopped", "QP-A"), now);
  if (!held.ok) throw new Error(held.sentence);
  const told = { kind: "set-held-back", reference: `Set ${held.number}` };
  const notices = await asSystem((tx) => tx.notice.findMany({ where: told, select: { audienceRole: true } }));
  expect(notices.map(({ audienceRole }) => audienceRole).sort()).toEqual(["safety-officer", "service-lead"]);
  // The dealer too, and only of what is with that dealer; a dealer with none of them is told nothing.
  const dealers = await asSystem((tx) =>
    tx.notice.findMany({ where: { ...told, kind: "own-held-back" }, select: { dealerId: true } }),
  );
  expect(dealers.map(({ dealerId }) => dealerId)).toContain(fleet.berlin.dealerId);
  expect(await listOwnHeldBack(fleet.berlin)).toContainEqual({
    serialShown: groupSerial(fleet.unsold),
    where: "on-loan",
    reference: lentFor.reference,
  });
  expect((await listOwnHeldBack(fleet.berlin)).map((pack) => pack.reference)).toContain(reference);
  expect((await listOwnHeldBack(fleet.sydney)).map((pack) => pack.reference)).not.toContain(reference);
  expect(await listOwnHeldBack(fleet.manager)).toEqual([]);
  const atStake = (await listAffectedSets(fleet.lead))?.find(({ number }) => number === held.number)?.atStake;
  expect(atStake?.returns.map((row) => row.reference)).toContain(reference);
  expect(atStake?.lent.map((row) => row.reference)).toEqual([lentFor.reference]);
  // What is helped from a distance would be ridden again with it: that asks for the same.
  await asSystem((tx) =>
    tx.return.updateMany({
      where: { reference: lentFor.reference },
      data: { status: "remote-help", version: { increment: 1 } },
    }),
  );
  const helped = await asActor(fleet.bench, (tx) => loadStanding(tx, lentFor.reference, now));
  expect(helped?.standing.known.outgoingIsStopped).toBe(true);

  const ready = { name: "ready-without-work", reason: "", seenVersion: 5, stated: { packIsSafe: true } } as const;
  expect(await makeMove(fleet.bench, reference, ready, now)).toMatchObject({ reason: "pack-stopped" });
  // Another way on: the return is taken up again, for another remedy.
  const { id } = await asSystem((tx) => tx.return.findUniqueOrThrow({ where: { reference }, select: { id: true } }));
  const known = await asActor(fleet.lead, (tx) => loadStanding(tx, reference, now));
  expect(
    known === null ? null : ownSteps(fleet.lead, known.standing).find(({ name }) => name === "reopen"),
  ).toMatchObject({
    whyNot: null,
  });
  // Printed is nothing for it either, whoever declared what.
  await declareForSending(fleet.lead, reference, now, "to-dealer");
  expect((await readTransport(fleet.lead, reference, now, "to-dealer"))?.sending).toEqual({ kind: "stopped" });

  const seen = await readHeldBackPack(fleet.safetyOfficer, reference);
  const request = { why: "Its leads were looked at one by one.", seenStops: seen?.seenStops ?? [] };
  for (const [actor, reason] of [
    [fleet.lead, "not-allowed"],
    [fleet.berlin, "not-found"],
    [fleet.manager, "same-person"],
  ] as const)
    expect(await letPackGo(actor, reference, request, now), actor.role).toMatchObject({ reason });
  expect(await letPackGo(fleet.safetyOfficer, reference, { ...request, seenStops: [] }, now)).toMatchObject({
    reason: "someone-changed-this",
  });
  expect(await letPackGo(fleet.safetyOfficer, reference, { ...request, why: "Fine." }, now)).toMatchObject({
    reason: "reason-missing",
  });
  const row = { returnId: id, stops: ["x"], why: request.why, byUserId: "x", byName: "x", byRole: "x", at: now };
  await expect(asActor(fleet.lead, (tx) => tx.packLetGo.createMany({ data: [row] }))).rejects.toThrow(
    /row-level security/,
  );
  // A word given under an earlier decision was given for another hand-over, and opens nothing.
  const before = { ...row, stops: [...request.seenStops], at: new Date(now.getTime() - 60_000) };
  await asSystem((tx) => tx.packLetGo.createMany({ data: [before] }));
  expect(await makeMove(fleet.bench, reference, ready, now)).toMatchObject({ reason: "pack-stopped" });
  const again = (actor: Actor, why: string) => holdPackAgain(actor, reference, why, now);
  expect(await again(fleet.manager, "Not so fast with this one.")).toMatchObject({ reason: "not-let-go" });
  expect(await letPackGo(fleet.safetyOfficer, reference, request, now)).toEqual({ ok: true });
  // Taken back by whoever of the safety side learns more, and given anew.
  expect(await again(fleet.lead, "Not so fast with this one.")).toMatchObject({ reason: "not-allowed" });
  expect(await again(fleet.manager, "No.")).toMatchObject({ reason: "reason-missing" });
  expect(await again(fleet.manager, "Not so fast with this one.")).toEqual({ ok: true });
  expect(await makeMove(fleet.bench, reference, ready, now)).toMatchObject({ reason: "pack-stopped" });
  const later = new Date(now.getTime() + 1000);
  expect(await letPackGo(fleet.safetyOfficer, reference, request, later)).toEqual({ ok: true });
  expect((await readHeldBackPack(fleet.manager, reference))?.words.map(({ kind }) => kind)).toEqual([
    "let-go",
    "let-go",
    "held-again",
    "let-go",
  ]);
  expect(await makeMove(fleet.bench, reference, ready, now)).toMatchObject({ ok: true });
  const outgoingSerial = String(serial);
  const handBack = { name: "hand-back", reason: "", seenVersion: 6, stated: { outgoingSerial } } as const;
  // A stop that comes later holds it back again, at the counter too, where a dealer sees none of it.
  const issue = { title: "Leads work loose", action: "None goes out.", stopShip: true, faults: [], openedOn: now };
  await asSystem(async (tx) => {
    const { id: revisionId } = await tx.revision.findUniqueOrThrow({ where: { code: "QP-A" }, select: { id: true } });
    await tx.knownIssue.create({ data: { ...issue, revisionId }, select: { id: true } });
  });
  expect(await makeMove(fleet.berlin, reference, handBack, now)).toMatchObject({ reason: "pack-stopped" });
  // Whoever wrote it down and however, those in charge and the dealers who have such packs are told, once.
  expect(await tellOfStopsAsSystem()).toBe(1);
  expect(await tellOfStopsAsSystem()).toBe(0);
  const ofIssue = await asSystem((tx) => tx.notice.findMany({ where: { key: { contains: " issue " } } }));
  const [lead] = ofIssue.filter(({ audienceRole }) => audienceRole === "service-lead");
  expect(lead).toMatchObject({ kind: "stop-opened", reference: "Build revision QP-A" });
  expect(noticePath("stop-opened", lead?.reference ?? "", false)).toBe("/reliability/affected?by=revision&group=QP-A");
  expect(ofIssue.filter(({ kind }) => kind === "own-held-back")).toMatchObject([
    { dealerId: fleet.berlin.dealerId, reference: "QP-A" },
  ]);
  await stepAffectedSet(fleet.safetyOfficer, stepOf(held.number, "let-go", 2), now);
  expect((await listOwnHeldBack(fleet.berlin)).map((pack) => pack.reference)).toContain(reference);
  await asSystem((tx) => tx.knownIssue.updateMany({ where: { title: "Leads work loose" }, data: { closedOn: now } }));
  expect(await makeMove(fleet.berlin, reference, handBack, now)).toMatchObject({ ok: true });
});
