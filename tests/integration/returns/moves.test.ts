import { beforeAll, expect, test } from "vitest";
import { queueWords } from "@/app/(service)/bench/queue-words";
import { asSystem } from "@/lib/data/database";
import { listRefundsToPay } from "@/lib/data/money/refunds-to-pay";
import { recordCaseReading } from "@/lib/data/readings/case-readings";
import { readLetter } from "@/lib/data/remedies/letters";
import { readRemedyView } from "@/lib/data/remedies/remedy-view";
import { readBenchReturn } from "@/lib/data/returns/bench-returns";
import { readChangesSince } from "@/lib/data/returns/changes-since";
import { checkHistory } from "@/lib/data/returns/history";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { makeMove } from "@/lib/data/returns/move-return";
import { flagSafety, recordRemedy } from "@/lib/data/returns/move-track";
import { listReturnQueue } from "@/lib/data/returns/return-queue";
import { loadStanding } from "@/lib/data/returns/return-standing";
import { readDealerReturn } from "@/lib/data/returns/returns";
import { recordLegalNotice } from "@/lib/data/warranty/legal-notices";
import type { Decision } from "@/lib/returns/decision.schema";
import type { RemedyState } from "@/lib/returns/remedy-track";
import type { MoveRequest } from "@/lib/returns/return-moves";
import { endedStatuses, isOpenStatus, undecidedStatuses } from "@/lib/returns/return-status";
import { riskRank } from "@/lib/returns/risk-rank";
import { approve, leaveProtocolOut, propose, takeAndDecide } from "@/tests/support/decide-return";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { countRows, withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

const now = new Date("2026-10-05T09:00:00Z");
let fleet: SmallFleet;
let nextPack = 0;

beforeAll(async () => {
  fleet = await createSmallFleet({ packs: 19 });
});

async function lodged(changes: Parameters<typeof filledForm>[1] = {}): Promise<string> {
  const serial = [...fleet.others, fleet.soldInBerlin, fleet.unsold][nextPack++];
  if (serial === undefined) throw new Error("the fleet has no pack left");
  const answer = await lodgeReturn(fleet.berlin, filledForm(serial, changes), now);
  if (!answer.ok) throw new Error(JSON.stringify(answer));
  return answer.reference;
}

async function taken(changes: Parameters<typeof filledForm>[1] = {}): Promise<string> {
  const reference = await lodged(changes);
  expect(await makeMove(fleet.bench, reference, { name: "take", reason: "", seenVersion: 1 })).toMatchObject({
    ok: true,
  });
  return reference;
}

const repair: Decision = {
  remedy: "repair",
  confirmedFault: "sense-wire",
  reason: "Sense lead re-seated and glued; log is quiet.",
  seenVersion: 2,
};

test("taken, proposed by one, approved by another: each move stored with who, why, when and where", async () => {
  const reference = await lodged();
  await takeAndDecide(fleet, reference, repair);
  const page = await readBenchReturn(fleet.bench, reference);
  expect(page?.status).toBe("decided");
  expect(page?.decision).toMatchObject({
    remedy: "repair",
    confirmedFailure: true,
    proposedByName: "Benno",
    decidedByName: "Lenka",
    secondByName: null,
    seenVersion: 2,
  });
  expect(page?.moves.map(({ to, actorName }) => `${to} ${actorName}`)).toEqual([
    "sent-in Berta",
    "in-review Benno",
    "decision-proposed Benno",
    "decided Lenka",
  ]);
  const [first] = await asSystem((tx) =>
    tx.returnMove.findMany({ where: { return: { reference } }, orderBy: { sequence: "asc" } }),
  );
  // Berlin is two hours ahead of UTC in October.
  expect(first).toMatchObject({ move: "lodge", at: now, atLocal: "2026-10-05T11:00:00.000+02:00" });
});

test("the dealer reads no proposal until it is decided", async () => {
  const reference = await taken();
  await propose(fleet.bench, reference, repair);
  const page = await readDealerReturn(fleet.berlin, reference);
  expect(page?.status).toBe("decision-proposed");
  expect(page?.steps.proposal).toBeNull();
  expect(page?.moves.map(({ to }) => to)).toEqual(["sent-in", "in-review"]);
});

test("a move on a stale version is refused, changes nothing, and says what was and what is", async () => {
  const reference = await taken();
  await propose(fleet.bench, reference, repair);
  expect(await propose(fleet.bench2, reference, { ...repair, seenVersion: 2 })).toMatchObject({
    ok: false,
    reason: "someone-changed-this",
  });
  expect(await readChangesSince(fleet.bench2, reference, 2)).toEqual({
    was: "Being looked at",
    now: "Decision proposed",
    changes: ["Decision proposed, by Benno"],
  });
});

test("of two people who move at once exactly one is heard", async () => {
  const reference = await taken();
  const decisions = await countRows("decision");
  const answers = await Promise.all([
    propose(fleet.bench, reference, repair),
    propose(fleet.bench2, reference, { ...repair, remedy: "isolate" }),
  ]);
  expect(answers.filter(({ ok }) => ok)).toHaveLength(1);
  expect(answers.find(({ ok }) => !ok)).toMatchObject({ reason: "someone-changed-this" });
  const page = await readBenchReturn(fleet.bench, reference);
  expect(page?.version).toBe(3);
  expect(page?.moves).toHaveLength(3);
  expect(await countRows("decision")).toBe(decisions);
});

test("a refusal needs the lead and a manager, and neither may have proposed it", async () => {
  const reference = await taken();
  const refusal: Decision = {
    ...repair,
    remedy: "refuse",
    confirmedFault: "outside-cause",
    refusalTerm: "Section 4: damage from a fall",
    refusalEvidence: "Photograph 3 shows the dent.",
    refusalAlternatives: "No transport damage on arrival.",
  };
  // Never in anybody's hands and on no photograph: refused so only with the reason written down.
  expect(await propose(fleet.bench, reference, refusal)).toMatchObject({ reason: "refusal-unseen" });
  const because = { refusedUnseenBecause: "The dealer showed the dent in a call." };
  expect(await propose(fleet.bench, reference, { ...refusal, ...because })).toMatchObject({ ok: true });
  expect(await approve(fleet.bench, reference, 3)).toMatchObject({ reason: "not-allowed" });
  expect(await approve(fleet.manager, reference, 3)).toMatchObject({ reason: "first-approval-missing" });
  expect(await approve(fleet.lead, reference, 3)).toEqual({ ok: true, version: 4 });
  expect(await readBenchReturn(fleet.bench, reference)).toMatchObject({
    status: "decision-proposed",
    decision: null,
    next: { proposal: { firstApprovalByName: "Lenka", secondPerson: ["refusal"] } },
  });
  const second: MoveRequest = { name: "approve-as-second", reason: "The dent is old.", seenVersion: 4 };
  expect(await makeMove(fleet.lead, reference, second)).toMatchObject({ reason: "not-allowed" });
  expect(await makeMove(fleet.manager, reference, second)).toEqual({ ok: true, version: 5 });
  const page = await readDealerReturn(fleet.berlin, reference);
  expect(page?.decision).toMatchObject({ remedy: "refuse", decidedByName: "Lenka", secondByName: "Manon" });
  expect(page?.steps.own.map(({ name }) => name)).toEqual(["give-letter", "object"]);
});

test("a question stops the maker's clock, and the answer lets it run on with what was left", async () => {
  const reference = await lodged();
  const ask: MoveRequest = { name: "ask", reason: "Which charger?", seenVersion: 1, stated: { dueOn: "2026-10-12" } };
  const asked = new Date("2026-10-06T09:00:00Z");
  expect(await makeMove(fleet.bench, reference, ask, asked)).toMatchObject({ ok: true });
  const paused = await readDealerReturn(fleet.berlin, reference);
  // Two days from lodging on the 5th at 09:00; one of them is left. The answer is due at the end of the day in Berlin.
  expect(paused?.steps).toMatchObject({
    turn: "dealer",
    pausedMinutesLeft: 24 * 60,
    dueAt: new Date("2026-10-12T21:59:59.999Z"),
    question: { text: "Which charger?", from: "sent-in" },
  });
  const answer: MoveRequest = { name: "answer", reason: "The one with 8 A.", seenVersion: 2 };
  expect(await makeMove(fleet.sydney, reference, answer)).toMatchObject({ reason: "not-found" });
  expect(await makeMove(fleet.berlin, reference, answer, new Date("2026-10-09T15:00:00Z"))).toMatchObject({ ok: true });
  expect((await readBenchReturn(fleet.bench, reference))?.next).toMatchObject({
    turn: "maker",
    pausedMinutesLeft: null,
    dueAt: new Date("2026-10-10T15:00:00Z"),
    question: null,
  });
});

test("after an objection somebody else looks, and the first decision stays", async () => {
  const reference = await lodged();
  await takeAndDecide(fleet, reference, { ...repair, remedy: "return-as-is", confirmedFault: "no-fault-found" });
  const object: MoveRequest = { name: "object", reason: "It still cuts out.", seenVersion: 4 };
  expect(await makeMove(fleet.berlin, reference, object)).toEqual({ ok: true, version: 5 });
  const told = { reference, kind: "objected", audienceRole: "service-lead" };
  expect(await asSystem((tx) => tx.notice.count({ where: told }))).toBe(1);
  const again: Decision = { ...repair, seenVersion: 5 };
  expect(await propose(fleet.bench, reference, again)).toMatchObject({ reason: "former-reviewer" });
  expect(await propose(fleet.bench2, reference, again)).toMatchObject({ ok: true });
  // The letter promises somebody who had no part in the decision: the lead approved it, so a manager does now.
  expect(await approve(fleet.lead, reference, 6)).toMatchObject({ reason: "former-reviewer" });
  expect(await approve(fleet.manager, reference, 6)).toMatchObject({ ok: true });
  const decisions = await asSystem((tx) =>
    tx.decision.findMany({ where: { return: { reference } }, orderBy: { decidedAt: "asc" }, select: { remedy: true } }),
  );
  expect(decisions).toEqual([{ remedy: "return-as-is" }, { remedy: "repair" }]);
  expect((await readDealerReturn(fleet.berlin, reference))?.decision?.remedy).toBe("repair");
});

test("the time to object runs from the day the customer got the letter, which is written without a day until then", async () => {
  const later = (days: number) => new Date(now.getTime() + days * 86_400_000);
  const reference = await lodged();
  const found = { ...repair, remedy: "return-as-is", confirmedFault: "no-fault-found" } as const;
  await takeAndDecide(fleet, reference, found, now);
  const [seenVersion = 0] = await asSystem((tx) =>
    tx.return.findMany({ where: { reference }, select: { version: true } }),
  ).then((rows) => rows.map(({ version }) => version));
  const objection = async () =>
    JSON.stringify((await readLetter(fleet.berlin, reference, "decision-letter", "en"))?.outcome);
  expect(await objection()).toContain("within 30 days after you got this letter");
  const time = async (at: Date) => (await readRemedyView(fleet.berlin, reference, at))?.timeToObject;
  expect(await time(now)).toEqual({ kind: "not-begun", days: 30 });
  const give: MoveRequest = { name: "give-letter", reason: "", seenVersion };
  const on = (letterGivenOn: string) => ({ ...give, stated: { letterGivenOn } });
  expect(await makeMove(fleet.berlin, reference, give, later(40))).toMatchObject({ reason: "letter-day-missing" });
  expect(await makeMove(fleet.berlin, reference, on("2027-01-01"), later(40))).toMatchObject({
    reason: "letter-day-wrong",
  });
  expect(await makeMove(fleet.sydney, reference, on("2026-11-10"), later(40))).toMatchObject({ ok: false });
  expect(await makeMove(fleet.berlin, reference, on("2026-11-10"), later(40))).toMatchObject({ ok: true });
  expect(await objection()).toContain("until 10 December 2026");
  const said = { until: "2026-12-10", letterGivenOn: "2026-11-10" };
  expect(await time(new Date("2026-12-10T22:00:00Z"))).toEqual({ kind: "open", ...said });
  expect(await time(new Date("2026-12-10T23:30:00Z"))).toEqual({ kind: "over", ...said });
  const object: MoveRequest = { name: "object", reason: "It still cuts out.", seenVersion: seenVersion + 1 };
  expect(await makeMove(fleet.berlin, reference, object, new Date("2026-12-11T09:00:00Z"))).toMatchObject({
    reason: "too-late",
  });
  expect(await makeMove(fleet.berlin, reference, object, new Date("2026-12-10T09:00:00Z"))).toMatchObject({ ok: true });
});

test("a refund is closed only once finance has paid it, and an objection takes the promise along", async () => {
  const reference = await lodged();
  const refund = { remedy: "refund", confirmedFault: "unknown", reason: "No pack of this kind is left." } as const;
  await takeAndDecide(fleet, reference, { ...refund, refundMinor: 5000, refundCurrency: "EUR" }, now);
  const later = new Date("2026-11-05T09:00:00Z");
  const step = (actor: SmallFleet["bench"], request: Omit<MoveRequest, "reason">, at = now) =>
    makeMove(
      actor,
      reference,
      { reason: "Because.", stated: { moneySettled: true, remedyDelivered: true }, ...request },
      at,
    );
  let seenVersion = 0;
  const promise = async (actor: SmallFleet["bench"], to: RemedyState, at = now) => {
    const answer = await recordRemedy(actor, reference, { to, reason: "Told.", seenVersion }, at);
    expect(answer, to).toMatchObject({ ok: true });
    seenVersion += 1;
  };
  const ready = { name: "ready-without-work", seenVersion: 4 } as const;
  expect(await step(fleet.bench, ready)).toMatchObject({ reason: "refund-not-agreed" });
  for (const prompt of (await readRemedyView(fleet.bench, reference))?.prompts ?? []) {
    const choice = prompt.kind === "choice-and-extension" ? ("repair" as const) : null;
    await recordLegalNotice(fleet.berlin, reference, { kind: prompt.kind, choice, language: "en" });
  }
  await promise(fleet.bench, "offered");
  await promise(fleet.bench, "refund-agreed");
  expect(await step(fleet.bench, ready)).toMatchObject({ ok: true });
  expect(await step(fleet.berlin, { name: "hand-back", seenVersion: 5 })).toMatchObject({ ok: true });
  const close = { name: "close", seenVersion: 6 } as const;
  expect(await step(fleet.manager, close, later)).toMatchObject({ reason: "remedy-not-delivered" });
  await promise(fleet.finance, "refund-paid");
  expect(
    await recordRemedy(fleet.berlin, reference, { to: "objected", reason: "Too little.", seenVersion }),
  ).toMatchObject({
    ok: false,
  });
  expect(await step(fleet.berlin, { name: "object", seenVersion: 6 })).toMatchObject({ ok: true });
  expect((await readRemedyView(fleet.bench, reference))?.state).toBe("objected");
  seenVersion += 1;

  // The new decision is the whole amount: the page of finance, the step and the letter tell and pay the rest alone.
  const more = { ...refund, seenVersion: 7, refundMinor: 12000 } as const;
  expect(await propose(fleet.bench2, reference, { ...more, refundCurrency: "CHF" }, now)).toMatchObject({
    reason: "refund-in-other-currency",
  });
  expect(await propose(fleet.bench2, reference, { ...more, refundCurrency: "EUR" }, later)).toMatchObject({ ok: true });
  // The lead approved the first amount: an objection goes to somebody who had no part in it.
  expect(await approve(fleet.lead, reference, 8, later)).toMatchObject({ ok: false });
  expect(await approve(fleet.manager, reference, 8, later)).toMatchObject({ ok: true });
  await promise(fleet.bench, "offered", later);
  await promise(fleet.bench, "refund-agreed", later);
  const toPay = (await listRefundsToPay(fleet.finance))?.filter((row) => row.reference === reference);
  expect(toPay).toMatchObject([{ amount: "70.00 EUR", paidBefore: "50.00 EUR" }]);
  expect((await readRemedyView(fleet.finance, reference))?.facts.refundOwed).toEqual({
    kind: "owed",
    minor: 7000,
    currency: "EUR",
    paidMinor: 5000,
  });
  await promise(fleet.finance, "refund-paid", later);
  const paid = await asSystem((tx) =>
    tx.trackMove.findMany({
      where: { return: { reference }, to: "refund-paid" },
      select: { facts: true },
      orderBy: { at: "asc" },
    }),
  );
  expect(paid).toMatchObject([{ facts: { paidMinor: 5000 } }, { facts: { paidMinor: 7000, paidCurrency: "EUR" } }]);
  const letter = await readLetter(fleet.berlin, reference, "decision-letter", "en");
  expect(JSON.stringify(letter)).toMatch(/We pay back 120\.00 EUR .*50\.00 EUR of it was paid back before/);
});

test("a disposal decided while the pack is at the dealer's is made there, and the record says that it is gone", async () => {
  const reference = await lodged();
  const disposal = { remedy: "dispose", confirmedFault: "unknown", reason: "Housing run over by a car." } as const;
  await takeAndDecide(fleet, reference, disposal, now);
  const stated = { partsAndPlan: "Fetched by a licensed carrier.", releaseSignature: "B. Bench" };
  const start = { name: "start-work", reason: "", seenVersion: 5, stated } as const;
  expect(await makeMove(fleet.bench, reference, start, now)).toMatchObject({ ok: true });
  const finish = { name: "finish-work", reason: "Fetched.", seenVersion: 6, stated } as const;
  expect(await makeMove(fleet.bench, reference, finish, now)).toMatchObject({ reason: "outcome-missing" });
  const told = { ...finish, stated: { ...stated, takenAwayBy: "Licensed carrier, consignment note 17." } };
  expect(await makeMove(fleet.bench, reference, told, now)).toMatchObject({ ok: true });
  expect((await readBenchReturn(fleet.bench, reference))?.next.custody.place).toBe("recycler");
});

test("a duplicate goes on in the return of the pack that replaced it, and both say so; of another pack it does not", async () => {
  const [old, successor, stranger] = [await lodged(), await lodged(), await lodged()];
  const join = (own: string, duplicateOf: string, seenVersion: number) =>
    makeMove(fleet.bench, own, { name: "merge", reason: "Lodged twice.", seenVersion, stated: { duplicateOf } }, now);
  expect(await join(old, stranger, 1)).toMatchObject({ reason: "duplicate-of-another-pack" });
  await asSystem(async (tx) => {
    const packOf = async (reference: string) =>
      (await tx.return.findUniqueOrThrow({ where: { reference }, select: { packId: true } })).packId;
    const [oldPackId, newPackId] = [await packOf(old), await packOf(successor)];
    await tx.replacement.createMany({ data: [{ oldPackId, newPackId, deliveredOn: new Date("2026-09-01") }] });
  });
  expect(await join(old, successor, 1)).toMatchObject({ ok: true });
  expect(await join(successor, old, 1)).toMatchObject({ reason: "duplicate-ended" });
  expect(await readDealerReturn(fleet.berlin, old)).toMatchObject({ joinedInto: successor, joinedFrom: [] });
  expect(await readBenchReturn(fleet.bench, successor)).toMatchObject({ joinedInto: null, joinedFrom: [old] });
});

test("a pack under a danger sign goes nowhere until the safety officer lowers the flag with a reason", async () => {
  const reference = await taken({ dangerSigns: ["leaking"] });
  const handBack: Decision = { ...repair, remedy: "return-as-is", confirmedFault: "no-fault-found" };
  expect(await propose(fleet.bench, reference, handBack)).toMatchObject({ reason: "safety-open" });
  const withdraw: MoveRequest = { name: "withdraw", reason: "Customer wants it back", seenVersion: 2 };
  expect(await makeMove(fleet.berlin, reference, withdraw)).toMatchObject({ reason: "safety-open" });
  const lower = { to: "normal", reason: "Condensation on the case, dried and tested.", seenVersion: 1 } as const;
  expect(await flagSafety(fleet.lead, reference, lower)).toMatchObject({ reason: "not-allowed" });
  expect(await flagSafety(fleet.safetyOfficer, reference, { ...lower, reason: " " })).toMatchObject({
    reason: "reason-missing",
  });
  expect(await flagSafety(fleet.safetyOfficer, reference, lower)).toEqual({ ok: true, version: 2 });
  // The sign opened an incident as well, and that holds the pack until it is closed.
  expect(await propose(fleet.bench, reference, handBack)).toMatchObject({ reason: "safety-open" });
  await asSystem(async (tx) => {
    const { id } = await tx.incident.findFirstOrThrow({ where: { return: { reference } }, select: { id: true } });
    const closed = { closedAt: now, closedByUserId: "u", closedByName: "U" };
    await tx.incidentClosing.create({ data: { incidentId: id, ...closed } });
  });
  // Nobody has looked for a fault yet.
  expect(await propose(fleet.bench, reference, handBack)).toMatchObject({ reason: "no-fault-untried" });
  await leaveProtocolOut(fleet, reference);
  expect(await propose(fleet.bench, reference, handBack)).toMatchObject({ ok: true });
});

test("only a revision that may replace the pack is accepted as its replacement", async () => {
  const reference = await taken();
  const replace: Decision = { ...repair, remedy: "replace" };
  expect(await propose(fleet.bench, reference, { ...replace, replacementRevisionCode: "QP-A" })).toMatchObject({
    reason: "revision-may-not-replace",
  });
  expect(await propose(fleet.bench, reference, { ...replace, replacementRevisionCode: "QP-B" })).toMatchObject({
    ok: true,
  });
});

test("the queue shows the riskiest first, what is overdue, and pages without losing a row", async () => {
  const queue = await listReturnQueue(fleet.bench, "open", 1);
  expect(queue?.rows[0]?.dangerSigns).toEqual(["leaking"]);
  expect((await listReturnQueue(fleet.bench, "open", 999))?.page).toBe(1);
  expect(await listReturnQueue(fleet.berlin, "open", 1)).toBeNull();
  const later = await listReturnQueue(fleet.bench, "overdue", 1, new Date("2030-01-01T00:00:00Z"));
  expect(later?.rows.every(({ isOverdue }) => isOverdue)).toBe(true);
  expect((await listReturnQueue(fleet.bench, "overdue", 1, new Date("2026-10-05T10:00:00Z")))?.total).toBe(0);
});

test("every list of the queue holds the returns its name says, in order, with what is known of each", async () => {
  const all = await asSystem((tx) =>
    tx.return.findMany({
      orderBy: [{ riskRank: "desc" }, { lodgedAt: "asc" }, { id: "asc" }],
      include: { pack: { include: { revision: true } }, decision: true, readingFile: { include: { findings: true } } },
    }),
  );
  const open = all.filter(({ status, settledBefore }) => isOpenStatus(status) && !settledBefore);
  const undecided = all.filter(({ status }) => undecidedStatuses.some((one) => one === status));
  const expected = {
    open: undecided,
    maker: open.filter(({ turn }) => turn === "maker"),
    dealer: open.filter(({ turn }) => turn === "dealer"),
    "to-approve": all.filter(({ status }) => status === "decision-proposed"),
  } as const;
  for (const show of ["open", "maker", "dealer", "to-approve"] as const) {
    const queue = await listReturnQueue(fleet.bench, show, 1);
    expect([show, queue?.total]).toEqual([show, expected[show].length]);
    expect(queue?.rows).toMatchObject(
      expected[show].slice(0, 25).map((row) => ({
        reference: row.reference,
        lodgedAt: row.lodgedAt,
        dangerSigns: row.dangerSigns,
        revisionCode: row.pack.revision.code,
        remedy: row.decision?.remedy ?? null,
        hasReadings: row.readingFile !== null,
        findings: (row.readingFile?.findings ?? [])
          .toSorted((a, b) => a.rank - b.rank)
          .map(({ fault, safetyClass }) => ({ fault, safetyClass })),
      })),
    );
  }
  const newest = all.toSorted((a, b) => b.lodgedAt.getTime() - a.lodgedAt.getTime() || (a.id < b.id ? -1 : 1));
  const ended = newest.filter(({ status }) => endedStatuses.some((one) => one === status));
  const decided = newest.filter((row) => isOpenStatus(row.status) && !undecided.some(({ id }) => id === row.id));
  for (const [show, rows] of [
    ["ended", ended],
    ["decided", decided],
  ] as const) {
    const queue = await listReturnQueue(fleet.bench, show, 1);
    expect(queue?.rows.map(({ reference }) => reference)).toEqual(rows.slice(0, 25).map(({ reference }) => reference));
  }
});

test("the bench sees build record, lots and the known issue of the lot; a dealer sees no bench page", async () => {
  const reference = (await listReturnQueue(fleet.bench, "open", 1))?.rows[0]?.reference ?? "";
  const page = await readBenchReturn(fleet.bench, reference);
  expect(page?.build?.capacityAh).toBe(40.6);
  expect(page?.lots).toEqual([{ kind: "cell", code: "CELL-1", supplier: "S1" }]);
  expect(page?.check.known).toMatchObject({ kind: "known-issues", issues: [{ fit: { kind: "nothing-found-yet" } }] });
  expect(page?.check.replacement).toMatchObject({ kind: "may-replace", options: [{ revisionCode: "QP-B" }] });
  expect(await readBenchReturn(fleet.berlin, reference)).toBeNull();
  expect(await readBenchReturn(fleet.bench, "R-26-99999-0")).toBeNull();
});

test("the history of every return is one unbroken chain, and the last mark is kept outside it", async () => {
  const returns = await asSystem((tx) =>
    tx.return.findMany({ select: { lastMoveHash: true, version: true, moves: { orderBy: { sequence: "asc" } } } }),
  );
  expect(returns.length).toBeGreaterThan(7);
  for (const { lastMoveHash, version, moves } of returns) {
    expect(checkHistory(moves, lastMoveHash)).toEqual({ kind: "sound", rows: version, lastHash: lastMoveHash });
    expect(checkHistory(moves.slice(0, -1), lastMoveHash)).toMatchObject({ kind: "broken" });
  }
});

test("neither a row of the history nor a step without its version gets past the database", async () => {
  const edit = asSystem((tx) => tx.returnMove.updateMany({ data: { reason: "other" } }));
  await expect(edit).rejects.toThrow(/written once/);
  const skip = asSystem((tx) => tx.return.updateMany({ where: { status: "decided" }, data: { status: "closed" } }));
  await expect(skip).rejects.toThrow(/version one higher/);
});

test("what is found on the case or in hand weighs where a second person is asked for, and stays with what was proposed", async () => {
  const reference = await taken();
  const proposed = () =>
    asSystem((tx) => tx.returnMove.findFirst({ where: { return: { reference }, move: "propose" } }));
  expect(await recordCaseReading(fleet.bench, reference, 6)).toEqual({ ok: true });
  // Also before anything is proposed: help from a distance is weighed against it without a proposal.
  const loaded = await asSystem((tx) => loadStanding(tx, reference, new Date()));
  expect(loaded?.standing.weighed.suggested).toBe("isolate");
  expect(await propose(fleet.bench, reference, repair)).toMatchObject({ ok: true });
  const page = await readBenchReturn(fleet.bench, reference);
  expect(page).toMatchObject({
    suggestion: { remedy: "isolate" },
    next: { proposal: { secondPerson: ["against-the-suggestion"] } },
  });
  expect((await proposed())?.facts).toMatchObject({
    suggested: { remedy: "isolate", reasons: expect.arrayContaining([expect.stringMatching(/gap grew/)]) },
  });
});

test("a bent case counts in the queue among the findings, and a grown one is set apart before what was known at lodging", async () => {
  const reference = await taken();
  const inQueue = async () => {
    const { riskRank: rank } = await asSystem((tx) => tx.return.findUniqueOrThrow({ where: { reference } }));
    const rows = (await listReturnQueue(fleet.bench, "open", 1))?.rows ?? [];
    const row = rows.find((one) => one.reference === reference);
    return { rank, words: row === undefined ? null : queueWords(row).risk.words };
  };
  expect(await inQueue()).toEqual({ rank: riskRank("none", [], null), words: "Cannot be judged yet" });
  expect(await recordCaseReading(fleet.bench, reference, 0)).toEqual({ ok: true });
  expect(await inQueue()).toEqual({ rank: riskRank("none", ["B"], null), words: "Damaged or defective" });
  expect(await recordCaseReading(fleet.bench, reference, 6)).toEqual({ ok: true });
  const grown = await inQueue();
  expect(grown.words).toBe("Flagged: set apart");
  expect(grown.rank).toBeGreaterThan(riskRank("set-apart", ["A1"], "isolate"));
  expect(grown.rank).toBeLessThan(riskRank("keep-away", [], null));
  const page = await readBenchReturn(fleet.bench, reference);
  const lowered = {
    to: "normal" as const,
    reason: "Looked at case and seams: bowed, not swollen.",
    seenVersion: page?.next.safety.version ?? 0,
  };
  expect(await flagSafety(fleet.safetyOfficer, reference, lowered)).toMatchObject({ ok: true });
  expect(await inQueue()).toEqual({ rank: riskRank("none", [], null), words: "Cannot be judged yet" });
});
