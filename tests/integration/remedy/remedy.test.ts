import { beforeAll, expect, test } from "vitest";
import { resultEntrySchema } from "@/lib/bench-tests/result-entry.schema";
import { recordTestResult } from "@/lib/data/bench-tests/bench-tests";
import { bookPartsIn, listParts } from "@/lib/data/bench-tests/parts";
import { recordWork, releasePack } from "@/lib/data/bench-tests/work";
import { verifyEveryChain } from "@/lib/data/chains/verify-chains";
import { asSystem } from "@/lib/data/database";
import { lookUpPack } from "@/lib/data/packs/packs";
import { orderComesBack, readComesBackPage, remindOfWhatIsAwaited } from "@/lib/data/remedies/comes-back";
import { giveUnitUp, keepUnitFor } from "@/lib/data/remedies/keep-unit";
import { lendPack, takeLoanBack } from "@/lib/data/remedies/lend-pack";
import { readLetter } from "@/lib/data/remedies/letters";
import { readRemedyView } from "@/lib/data/remedies/remedy-view";
import { readBenchReturn } from "@/lib/data/returns/bench-returns";
import { readComesBackChangesSince } from "@/lib/data/returns/changes-since";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { makeMove } from "@/lib/data/returns/move-return";
import { recordRemedy } from "@/lib/data/returns/move-track";
import { loadStanding } from "@/lib/data/returns/return-standing";
import { recordLegalNotice } from "@/lib/data/warranty/legal-notices";
import { groupSerial, type Serial } from "@/lib/packs/serial";
import { workEntrySchema } from "@/lib/repair/work-entry.schema";
import { comesBackOrderSchema } from "@/lib/returns/comes-back.schema";
import type { Decision } from "@/lib/returns/decision.schema";
import { endOfDay } from "@/lib/returns/local-instant";
import type { MoveRequest } from "@/lib/returns/return-moves";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { sayDate } from "@/lib/warranty/say-date";
import { codeOf, layOutInstruments } from "@/tests/support/bring-to-bench";
import { takeAndDecide } from "@/tests/support/decide-return";
import { packForSending } from "@/tests/support/pack-for-sending";
import { packInStore } from "@/tests/support/pack-in-store";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";
import { expectWrittenOnce } from "@/tests/support/written-once";

withTestDatabase();

const now = new Date("2026-10-05T09:00:00Z");
const DAY_MS = 24 * 60 * 60 * 1000;
let fleet: SmallFleet;
let nextPack = 0;
/** Packs of the current revision that never left the store. */
const store: Serial[] = [];

beforeAll(async () => {
  fleet = await createSmallFleet({ packs: 14 });
  for (const sequence of [1, 2, 3, 4]) store.push(await packInStore("QP-B", sequence));
});

const unit = (position: number): Serial => {
  const serial = store[position];
  if (serial === undefined) throw new RangeError("the store is empty");
  return serial;
};

const replacement: Omit<Decision, "seenVersion"> = {
  remedy: "replace",
  confirmedFault: "weak-cell",
  reason: "Group 7 holds two thirds of the others.",
  replacementRevisionCode: "QP-B",
};

async function decided(decision: Omit<Decision, "seenVersion">): Promise<string> {
  const serial = fleet.others[nextPack++];
  if (serial === undefined) throw new Error("the fleet has no pack left");
  const answer = await lodgeReturn(fleet.berlin, filledForm(serial), now);
  if (!answer.ok) throw new Error(JSON.stringify(answer));
  await takeAndDecide(fleet, answer.reference, decision);
  return answer.reference;
}

async function move(actor: SmallFleet["bench"], reference: string, request: Omit<MoveRequest, "seenVersion">) {
  const { version } = await asSystem((tx) =>
    tx.return.findUniqueOrThrow({ where: { reference }, select: { version: true } }),
  );
  return makeMove(actor, reference, { ...request, seenVersion: version });
}

test("of two who reach for the same pack one gets it; what may not go is refused in words at the field", async () => {
  const one = await decided(replacement);
  const other = await decided(replacement);
  const both = await Promise.all([keepUnitFor(fleet.bench, one, unit(0)), keepUnitFor(fleet.bench2, other, unit(0))]);
  expect(both.filter(({ ok }) => ok)).toHaveLength(1);
  const loser = both.find(({ ok }) => !ok);
  expect(loser).toMatchObject({ reason: "is-kept-for-another", sentence: expect.stringMatching(/kept|Take another/) });
  const [winnerOf, loserOf] = both[0]?.ok ? [one, other] : [other, one];
  expect(await keepUnitFor(fleet.bench, winnerOf, unit(1))).toMatchObject({ reason: "one-is-kept" });
  expect(await keepUnitFor(fleet.bench, loserOf, "QP-1")).toMatchObject({ reason: "unit-unknown" });
  expect(await keepUnitFor(fleet.bench, loserOf, fleet.unsold)).toMatchObject({ reason: "is-not-in-store" });
  expect(await keepUnitFor(fleet.bench, loserOf, fleet.soldInSydney)).toMatchObject({ reason: "is-in-service" });
  expect(await keepUnitFor(fleet.manager, loserOf, unit(1))).toMatchObject({ reason: "not-allowed" });
  expect(await keepUnitFor(fleet.sydney, loserOf, unit(1))).toMatchObject({ reason: "not-allowed" });
  expect(await giveUnitUp(fleet.bench, winnerOf, "Scratched case.")).toMatchObject({ ok: true });
  expect(await keepUnitFor(fleet.bench, loserOf, unit(0))).toMatchObject({ ok: true });
  const ended = { endedAt: { not: null } };
  await expectWrittenOnce(
    () => asSystem((tx) => tx.unitReservation.findMany({ where: ended })),
    () => asSystem((tx) => tx.unitReservation.updateMany({ where: ended, data: { endedBecause: "other" } })),
  );
});

test("the pack kept is the one handed over: the chain, the cover and the store follow, and the old serial needs a plain answer", async () => {
  const reference = await decided(replacement);
  const start = { name: "start-work", reason: "", stated: { reservedSerial: String(unit(1)) } } as const;
  expect(await move(fleet.bench, reference, start)).toMatchObject({ ok: true });
  const finish = { name: "finish-work", reason: "Packed.", stated: { releaseSignature: "B. Enno" } } as const;
  expect(await move(fleet.bench, reference, finish)).toMatchObject({ ok: true });

  // Stopped while it waits: it does not go out, and the dealer is not told why.
  await asSystem(async (tx) => {
    const revision = await tx.revision.findUniqueOrThrow({ where: { code: "QP-B" }, select: { id: true } });
    const stop = { title: "Loose leads", action: "Keep it.", faults: [], stopShip: true, openedOn: now };
    await tx.knownIssue.create({ data: { ...stop, revisionId: revision.id } });
  });
  const handOver = { name: "hand-back", reason: "", stated: { outgoingSerial: String(unit(1)) } } as const;
  expect(await move(fleet.berlin, reference, handOver)).toMatchObject({ reason: "unit-stopped" });
  await asSystem((tx) => tx.knownIssue.updateMany({ where: { stopShip: true }, data: { closedOn: now } }));

  const other = { name: "hand-back", reason: "", stated: { outgoingSerial: String(unit(2)) } } as const;
  expect(await move(fleet.berlin, reference, other)).toMatchObject({ reason: "wrong-unit" });
  expect(await move(fleet.berlin, reference, handOver)).toMatchObject({ reason: "outgoing-no-class" });
  await packForSending(fleet, reference, new Date(), "to-dealer");
  expect(await move(fleet.berlin, reference, handOver)).toMatchObject({ ok: true });

  const pack = await asSystem((tx) =>
    tx.pack.findUniqueOrThrow({
      where: { serial: unit(1) },
      include: { replaces: { include: { oldPack: true } }, reservations: true },
    }),
  );
  expect(pack.dispatchedOn).not.toBeNull();
  expect(pack.dispatchedToId).toBe(fleet.berlin.dealerId);
  expect(pack.reservations).toMatchObject([{ ending: "handed-over", endedByName: "Berta" }]);
  const view = await readRemedyView(fleet.berlin, reference);
  expect(view?.givenUnit).toMatchObject({ serialShown: groupSerial(unit(1)), byName: "Berta" });
  expect(view?.handedBackAt).not.toBeNull();
  const oldSerial = pack.replaces?.oldPack.serial ?? "";
  const cover = async (serial: string) => {
    const found = await lookUpPack(fleet.berlin, serial);
    return found.kind === "found" ? found.pack : null;
  };
  const [of, was] = [await cover(unit(1)), await cover(oldSerial)];
  expect(of?.cover.startsOn).toBe(was?.cover.startsOn);
  expect(was?.replacedOn).not.toBeNull();

  const form = filledForm(fleet.others[nextPack - 1] ?? fleet.unsold);
  const refused = await lodgeReturn(fleet.berlin, form, now);
  expect(refused).toMatchObject({ ok: false, problems: [{ field: "replacedBecause" }] });
  const answered = await lodgeReturn(fleet.berlin, { ...form, replacedBecause: "kept-by-customer" }, now);
  expect(answered).toMatchObject({ ok: true });

  // Replaced once more under its old serial: the chain goes on from the pack that the customer holds.
  const again = answered.ok ? answered.reference : "";
  await takeAndDecide(fleet, again, replacement);
  const startAgain = { ...start, stated: { reservedSerial: String(unit(2)) } };
  const handOverAgain = { ...handOver, stated: { outgoingSerial: String(unit(2)) } };
  expect(await move(fleet.bench, again, startAgain)).toMatchObject({ ok: true });
  expect(await move(fleet.bench, again, finish)).toMatchObject({ ok: true });
  await packForSending(fleet, again, new Date(), "to-dealer");
  expect(await move(fleet.berlin, again, handOverAgain)).toMatchObject({ ok: true });
  const third = await asSystem((tx) =>
    tx.pack.findUniqueOrThrow({ where: { serial: unit(2) }, include: { replaces: { include: { oldPack: true } } } }),
  );
  expect(third.replaces?.oldPack.serial).toBe(unit(1));
  expect(third.dispatchedToId).toBe(fleet.berlin.dealerId);
  expect((await cover(unit(2)))?.cover.startsOn).toBe(was?.cover.startsOn);

  // Back again it would close a loop; in the database nobody can do it either.
  const [oldId, newId] = [pack.replaces?.oldPackId ?? "", pack.id];
  const loop = asSystem((tx) =>
    tx.replacement.createMany({ data: [{ oldPackId: newId, newPackId: oldId, deliveredOn: now }] }),
  );
  await expect(loop).rejects.toThrow(/leads back/);
});

test("what the customer gives back has a day, a letter, a reminder and an end, and until then the return stays open", async () => {
  const sold = filledForm(fleet.others[nextPack++] ?? fleet.unsold);
  const lodged = await lodgeReturn(fleet.berlin, sold, now);
  const reference = lodged.ok ? lodged.reference : "";
  await takeAndDecide(fleet, reference, { ...replacement, replacementRevisionCode: "QP-B" });
  const handOver = async (serial: Serial, by: SmallFleet["bench"]) => {
    const step = (request: Omit<MoveRequest, "seenVersion">, actor = by) => move(actor, reference, request);
    const stated = { reservedSerial: String(serial), releaseSignature: "B. Enno", outgoingSerial: String(serial) };
    expect(await step({ name: "start-work", reason: "", stated })).toMatchObject({ ok: true });
    expect(await step({ name: "finish-work", reason: "Packed.", stated })).toMatchObject({ ok: true });
    await packForSending(fleet, reference, new Date(), "to-dealer");
    expect(await step({ name: "hand-back", reason: "", stated }, fleet.berlin)).toMatchObject({ ok: true });
  };
  await handOver(await packInStore("QP-B", 5), fleet.bench);
  expect(await move(fleet.berlin, reference, { name: "object", reason: "It rattles." })).toMatchObject({ ok: true });

  const more = { ...replacement, seenVersion: 0, comesBack: "The dealer sends the first new pack in." } as const;
  const dueOn = civilDateAt(new Date(Date.now() + 10 * DAY_MS), "Europe/Berlin");
  const proposal = { ...more, comesBackWhat: "comes-back", comesBackBy: dueOn } as const;
  const proposed = (decision: Decision) =>
    move(fleet.bench2, reference, { name: "propose", reason: decision.reason, decision });
  expect(await proposed(more)).toMatchObject({ reason: "given-before" });
  expect(await proposed(proposal)).toMatchObject({ ok: true });
  expect(await readComesBackPage(fleet.berlin, reference)).toBeNull();
  const stated = { noticesGiven: true };
  expect(await move(fleet.manager, reference, { name: "approve", reason: "", stated })).toMatchObject({ ok: true });
  const second = { name: "approve-as-second", reason: "Looked at as well." } as const;
  expect(await move(fleet.manager2, reference, second)).toMatchObject({ ok: true });

  // The dealer reads it and is written to; the letter says it too.
  expect(await readComesBackPage(fleet.berlin, reference)).toMatchObject({
    last: { order: "comes-back", dueOn, why: more.comesBack },
    isOverdue: false,
    orders: [],
  });
  expect(await readComesBackPage(fleet.sydney, reference)).toBeNull();
  const told = (kind: string) => asSystem((tx) => tx.notice.count({ where: { reference, kind } }));
  expect(await told("comes-back")).toBe(1);
  expect(JSON.stringify(await readLetter(fleet.berlin, reference, "decision-letter", "de"))).toContain(more.comesBack);

  await handOver(await packInStore("QP-B", 6), fleet.bench2);
  const lying = () =>
    asSystem((tx) => tx.return.findUniqueOrThrow({ where: { reference }, select: { turn: true, dueAt: true } }));
  expect(await lying()).toEqual({ turn: "dealer", dueAt: endOfDay(dueOn, "Europe/Berlin") });
  const later = new Date(Date.now() + 60 * DAY_MS);
  const close = async () => {
    const { version } = await asSystem((tx) =>
      tx.return.findUniqueOrThrow({ where: { reference }, select: { version: true } }),
    );
    const settled = { remedyDelivered: true, moneySettled: true };
    return makeMove(
      fleet.manager,
      reference,
      { name: "close", reason: "", stated: settled, seenVersion: version },
      later,
    );
  };
  expect(await close()).toMatchObject({ reason: "awaited-back" });
  // Told once that the day is over, however often the round comes.
  expect(await asSystem((tx) => remindOfWhatIsAwaited(tx, now))).toBe(0);
  expect(await asSystem((tx) => remindOfWhatIsAwaited(tx, later))).toBe(1);
  expect(await asSystem((tx) => remindOfWhatIsAwaited(tx, later))).toBe(0);
  expect(await told("comes-back-overdue")).toBe(2);

  // Two people agreed that it comes back: one alone does not say that nothing does, and no dealer says anything.
  const said = (actor: SmallFleet["bench"], order: "is-back" | "nothing-comes-back" | "comes-back", day = "") =>
    orderComesBack(actor, reference, comesBackOrderSchema.parse({ order, dueOn: day, why: "Seen at goods-in." }), 1);
  for (const actor of [fleet.berlin, fleet.sydney]) expect(await said(actor, "is-back")).toMatchObject({ ok: false });
  for (const actor of [fleet.lead, fleet.manager2])
    expect(await said(actor, "nothing-comes-back")).toMatchObject({ ok: false });
  expect(await said(fleet.bench, "comes-back", "2026-01-01")).toMatchObject({ field: "dueOn" });
  expect(await said(fleet.bench, "is-back")).toEqual({ ok: true });
  // Whoever had the page open from before sees both: what was said then, and now.
  expect(await said(fleet.bench, "comes-back", dueOn)).toMatchObject({ ok: false, isStale: true });
  expect(await readComesBackChangesSince(fleet.bench, reference, 1)).toEqual({
    was: `It comes back, by ${sayDate(dueOn)}`,
    now: "It is back",
    changes: [expect.stringMatching(/^It is back, by /)],
  });
  expect(await readComesBackChangesSince(fleet.sydney, reference, 1)).toBeNull();
  expect(await lying()).toEqual({ turn: "maker", dueAt: null });
  expect(await readComesBackPage(fleet.berlin, reference)).toMatchObject({ last: { order: "is-back", dueOn: null } });
  expect(await close()).toMatchObject({ ok: true });
});

test("while an objection is looked at nobody is reminded of what comes back, and no withdrawal forgets it", async () => {
  const reference = await decided(replacement);
  const now = new Date();
  const order = {
    about: "given-before",
    order: "comes-back",
    why: "The first new pack.",
    dueOn: new Date("2026-01-01"),
  };
  const by = { orderedAt: now, orderedByUserId: "x", orderedByName: "X" };
  await asSystem(async (tx) => {
    const { id: returnId } = await tx.return.findUniqueOrThrow({ where: { reference }, select: { id: true } });
    await tx.oldPackOrder.create({ data: { returnId, ...order, ...by } });
  });
  const object = { name: "object", reason: "It rattles as well." } as const;
  expect(await move(fleet.berlin, reference, object)).toMatchObject({ ok: true });
  const told = () => asSystem((tx) => tx.notice.count({ where: { reference, kind: "comes-back-overdue" } }));
  await asSystem((tx) => remindOfWhatIsAwaited(tx, now));
  expect(await told()).toBe(0);
  const withdraw = { name: "withdraw", reason: "The customer keeps both." } as const;
  expect(await move(fleet.berlin, reference, withdraw)).toMatchObject({ reason: "awaited-back" });
  const nothing = comesBackOrderSchema.parse({
    order: "nothing-comes-back",
    dueOn: "",
    why: "Left with the customer.",
  });
  expect(await orderComesBack(fleet.manager, reference, nothing, 1)).toEqual({ ok: true });
  expect(await move(fleet.berlin, reference, withdraw)).toMatchObject({ ok: true });
});

/** A plan of two tests after work, approved: one is looked at, one measured. */
async function approvePlan(): Promise<string> {
  const { id: modelId } = await asSystem((tx) =>
    tx.packModel.findUniqueOrThrow({ where: { code: "QP" }, select: { id: true } }),
  );
  const common = { caution: "", isMandatory: true, isDestructive: false, isRetest: true, beside: [] };
  const limits = { lower: 39, upper: null, source: "build-limit", sourceNote: "Limit at the end of the line" };
  const tests = [
    {
      ...common,
      key: "outside",
      title: "Look at it",
      phase: "look",
      shows: "Blows and leaks.",
      method: "Look at every face.",
      reading: { kind: "look", expected: "Nothing is broken." },
    },
    {
      ...common,
      key: "capacity",
      title: "Capacity",
      phase: "under-load",
      shows: "How much charge is left.",
      method: "Charge, rest, discharge.",
      reading: { kind: "number", instrument: "capacity-bench", unit: "Ah", limits, buildLimits: limits },
    },
  ];
  const at = new Date("2026-01-01T00:00:00Z");
  const people = { proposedByUserId: "a", proposedByName: "A", settledByUserId: "b", settledByName: "B" };
  return asSystem(async (tx) => {
    const plan = await tx.testPlan.create({
      data: { scope: "QP", modelId, version: 1, tests, why: "First.", proposedAt: at, ...people, state: "proposed" },
      select: { id: true },
    });
    await tx.testPlan.update({ where: { id: plan.id }, data: { state: "approved", settledAt: at } });
    return plan.id;
  });
}

/** Where the pack lies and where its return stands, past the program: the way there is tried elsewhere. */
async function putToWork(reference: string): Promise<void> {
  await asSystem(async (tx) => {
    const { packId } = await tx.return.findUniqueOrThrow({ where: { reference }, select: { packId: true } });
    await tx.track.createMany({
      data: [{ packId, track: "custody", state: "workshop", openedByUserId: "u", openedByName: "U" }],
    });
  });
  const start = { name: "start-work", reason: "", stated: { partsAndPlan: "A new board." } } as const;
  expect(await move(fleet.bench, reference, start)).toMatchObject({ ok: true });
}

test("repaired with parts of known lots, released by another within the limits of a new build, and known as it is now", async () => {
  const planId = await approvePlan();
  const reference = await decided({
    remedy: "repair",
    confirmedFault: "measurement-fault",
    reason: "The board reads one group wrong.",
  });
  await putToWork(reference);
  const finish = { name: "finish-work", reason: "Done.", stated: {} } as const;
  expect(await move(fleet.bench, reference, finish)).toMatchObject({ reason: "limits-not-passed" });

  const work = (over: object) =>
    workEntrySchema.parse({ reference, operation: "board-exchanged", minutes: "60", note: "Old board kept.", ...over });
  const board = { lotCode: "brd-2", identity: "BMS-NEW", firmware: "1.4" };
  const unknown = await recordWork(fleet.bench, work(board));
  expect(unknown).toMatchObject({ ok: false, field: "lotCode", sentence: expect.stringMatching(/booked in/) });
  const bookIn = { kind: "board", lotCode: "BRD-2", supplier: "S7", quantity: 1 };
  expect(await bookPartsIn(fleet.manager, bookIn)).toMatchObject({ ok: false });
  expect(await bookPartsIn(fleet.bench, bookIn)).toEqual({ ok: true });
  expect(await bookPartsIn(fleet.bench, { ...bookIn, supplier: "S8" })).toMatchObject({ field: "supplier" });
  expect(await recordWork(fleet.berlin, work(board))).toMatchObject({ reason: "not-found" });
  expect(await recordWork(fleet.bench, work(board))).toEqual({ ok: true });
  expect((await listParts(fleet.bench))?.[0]).toMatchObject({ code: "BRD-2", bookedIn: 1, used: 1 });
  expect(await recordWork(fleet.bench, work({ ...board, identity: "BMS-X" }))).toMatchObject({ field: "lotCode" });

  const page = await readBenchReturn(fleet.bench, reference);
  expect(page?.maintained).toMatchObject({ boardIdentity: "BMS-NEW", firmware: "1.4" });
  expect(page?.build?.firmware).toBe("1.0");
  expect(page?.lots.map(({ code }) => code).sort()).toEqual(["BRD-2", "CELL-1"]);

  // As the form of the re-test sends it: judged by the limits of a new build, with the uncertainty of its instrument.
  await layOutInstruments(fleet, "2099-12-31");
  const retest = (testKey: string, given: Readonly<Record<string, string>>, actor = fleet.bench) =>
    recordTestResult(
      actor,
      resultEntrySchema.parse({ reference, planId, testKey, purpose: "retest", ...given }),
      new Date(),
    );
  const capacityOf = (value: string) => retest("capacity", { value, instrument: codeOf("capacity-bench") });
  expect(await releasePack(fleet.bench, reference, "Benno B.")).toMatchObject({ reason: "own-work" });
  expect(await releasePack(fleet.bench2, reference, "Bruna B.")).toMatchObject({ reason: "retest-open" });
  expect(await retest("outside", { seen: "as-expected" }, fleet.berlin)).toMatchObject({ reason: "not-found" });
  expect(await retest("outside", { seen: "as-expected" })).toEqual({ ok: true, verdict: "inside" });
  expect(await capacityOf("")).toMatchObject({ field: "value" });
  // 38 Ah are enough for a returned pack and too few for a new build; 39.1 ± 0.2 Ah straddle its limit of 39 Ah.
  expect(await capacityOf("38")).toEqual({ ok: true, verdict: "outside" });
  expect(await releasePack(fleet.bench2, reference, "Bruna B.")).toMatchObject({ reason: "outside-limits" });
  expect(await capacityOf("39.1")).toEqual({ ok: true, verdict: "cannot-tell" });
  expect(await releasePack(fleet.bench2, reference, "Bruna B.")).toMatchObject({ reason: "cannot-tell" });
  expect(await capacityOf("40.4")).toEqual({ ok: true, verdict: "inside" });
  expect(await releasePack(fleet.bench2, reference, "Bruna B.")).toEqual({ ok: true });
  expect(await recordWork(fleet.bench, work(board))).toMatchObject({ field: "operation" });
  expect(await move(fleet.bench, reference, finish)).toMatchObject({ ok: true });
  await expectWrittenOnce(
    () => asSystem((tx) => tx.workEntry.findMany()),
    () => asSystem((tx) => tx.workEntry.updateMany({ data: { note: "other" } })),
  );
});

const asLent = (condition: string) => ({ look: "as-lent", condition }) as const;

test("a pack is lent once at a time, out of the own stock, and its return is not closed before it is back", async () => {
  const reference = await decided({ remedy: "repair", confirmedFault: "weak-cell", reason: "Group 7 is weak." });
  const lent = fleet.unsold;
  expect(await lendPack(fleet.sydney, reference, lent)).toMatchObject({ ok: false });
  expect(await lendPack(fleet.finance, reference, lent)).toMatchObject({ ok: false });
  expect(await lendPack(fleet.berlin, reference, "QP-1")).toMatchObject({ sentence: expect.stringMatching(/known/) });
  // Nothing leaves the works without a class of its own, whoever records the loan.
  for (const actor of [fleet.berlin, fleet.bench])
    expect(await lendPack(actor, reference, unit(3))).toMatchObject({
      sentence: expect.stringMatching(/lies at the works/),
    });
  expect(await lendPack(fleet.berlin, reference, fleet.soldInSydney)).toMatchObject({
    sentence: expect.stringMatching(/in service/),
  });
  expect(await takeLoanBack(fleet.berlin, reference, asLent("As lent."))).toMatchObject({ ok: false });
  const both = await Promise.all([
    lendPack(fleet.berlin, reference, lent, now),
    lendPack(fleet.bench, reference, lent, now),
  ]);
  expect(both.filter(({ ok }) => ok)).toHaveLength(1);
  const facts = () => asSystem(async (tx) => (await loadStanding(tx, reference, now))?.standing.known.loanIsOut);
  expect(await facts()).toBe(true);
  // What is lent is in nobody's store.
  const other = await decided({ ...replacement });
  expect(await keepUnitFor(fleet.bench, other, lent)).toMatchObject({ reason: "is-lent" });
  expect(await takeLoanBack(fleet.berlin, reference, asLent(""))).toMatchObject({ ok: false });
  expect(await takeLoanBack(fleet.sydney, reference, asLent("As lent."))).toMatchObject({ ok: false });
  expect(await takeLoanBack(fleet.berlin, reference, asLent("As lent, half charged."))).toEqual({ ok: true });
  expect(await facts()).toBe(false);
  const view = await readRemedyView(fleet.berlin, reference);
  expect(view?.loans).toMatchObject([{ lentByName: expect.any(String), condition: "As lent, half charged." }]);

  // Lent once more it comes back soaked: set apart, told of, and lent to nobody.
  expect(await lendPack(fleet.berlin, reference, lent, now)).toEqual({ ok: true });
  const soaked = { look: "wet", condition: "Left out in the rain." } as const;
  expect(await takeLoanBack(fleet.sydney, reference, soaked)).toMatchObject({ ok: false });
  expect(await takeLoanBack(fleet.berlin, reference, soaked)).toEqual({ ok: true });
  expect(await lendPack(fleet.berlin, reference, lent, now)).toMatchObject({
    sentence: expect.stringMatching(/set apart for safety/),
  });
  const incident = await asSystem((tx) =>
    tx.incident.findFirstOrThrow({ where: { pack: { serial: lent } }, include: { entries: true } }),
  );
  expect(JSON.stringify(incident.entries)).toContain("Left out in the rain.");
});

test("the notice of the place of sale is shown word for word, answered by the customer, and holds the offer up until then", async () => {
  const lodged = await lodgeReturn(fleet.berlin, filledForm(fleet.unsold), now);
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  const { reference } = lodged;
  const before = await readRemedyView(fleet.bench, reference);
  expect(before?.decision).toBeNull();
  expect(before?.next.every(({ whyNot }) => whyNot !== null)).toBe(true);
  expect(before?.prompts.map(({ kind }) => kind)).toEqual(["choice-and-extension"]);
  const shown = { kind: "choice-and-extension", choice: "repair", language: "es" } as const;
  expect(await recordLegalNotice(fleet.finance, reference, shown, now)).toBe(false);
  expect(await recordLegalNotice(fleet.bench, reference, { ...shown, choice: "refurbished" }, now)).toBe(false);
  expect(await recordLegalNotice(fleet.bench, reference, shown, now)).toBe(true);
  const decision = { remedy: "repair", confirmedFault: "weak-cell", reason: "Group 7 is weak." } as const;
  await takeAndDecide(fleet, reference, decision);
  const after = await readRemedyView(fleet.berlin, reference);
  expect(after).toMatchObject({
    choice: "repair",
    shown: [{ text: before?.prompts[0]?.texts.es, choice: "repair", shownByName: "Benno" }],
  });
  const offer = { to: "offered", reason: "Told by telephone.", seenVersion: 0 } as const;
  expect(await recordRemedy(fleet.bench, reference, offer)).toEqual({ ok: true, version: 1 });
  const chosen = { to: "chosen", reason: "The customer wants it repaired.", seenVersion: 1 } as const;
  expect(await recordRemedy(fleet.berlin, reference, chosen)).toEqual({ ok: true, version: 2 });
});

test("every chain of a history and of a track is found whole, and one row changed past the program is found", async () => {
  const reference = await decided({ ...replacement });
  const offer = { to: "offered", reason: "Told by telephone.", seenVersion: 0 } as const;
  expect(await recordRemedy(fleet.bench, reference, offer)).toEqual({ ok: true, version: 1 });
  const sound = await verifyEveryChain();
  expect(sound.broken).toEqual([]);
  expect(sound.returns).toBeGreaterThan(3);
  expect(sound.tracks).toBeGreaterThan(0);
  // The mark kept outside the chain is no written-once row: set wrong, it shows.
  await asSystem((tx) =>
    tx.track.updateMany({ where: { track: "remedy", return: { reference } }, data: { lastHash: "0".repeat(64) } }),
  );
  // A status that was edited: the trigger lets no step without a version through, and the chain has no row for this one.
  const untouched = await decided({ ...replacement });
  const edited = { status: "work-in-progress", version: { increment: 1 } };
  await asSystem((tx) => tx.return.update({ where: { reference: untouched }, data: edited }));
  const { broken } = await verifyEveryChain();
  expect(broken).toMatchObject([
    { chain: untouched, sentence: "It stands elsewhere than its last row says." },
    { chain: expect.stringMatching(/^remedy /), sentence: expect.stringMatching(/end/) },
  ]);
});
