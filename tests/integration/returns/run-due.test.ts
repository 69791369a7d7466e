import { randomUUID } from "node:crypto";
import http from "node:http";
import type { AddressInfo } from "node:net";
import { afterAll, beforeAll, expect, test } from "vitest";
import type { Actor } from "@/lib/access/actor";
import { asSystem } from "@/lib/data/database";
import { listReturnsWithoutLine, stateNothingOwed } from "@/lib/data/money/nothing-owed";
import { readQuarantineBoard } from "@/lib/data/receiving/quarantine-board";
import { setQuarantinePlace } from "@/lib/data/receiving/quarantine-places";
import { placeInQuarantine, recordArrival, recordWatch } from "@/lib/data/receiving/receiving";
import { checkHistory } from "@/lib/data/returns/history";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { makeMove } from "@/lib/data/returns/move-return";
import { flagSafety, scanPack } from "@/lib/data/returns/move-track";
import { keepDraft, listDrafts } from "@/lib/data/returns/return-drafts";
import { readReturnSettings } from "@/lib/data/returns/return-settings";
import { runDueAsSystem } from "@/lib/data/returns/run-due";
import { listSettingsVersions, proposeSettings, settleSettings } from "@/lib/data/returns/settings-versions";
import { listUnansweredIncidents } from "@/lib/data/safety/incident-calls";
import { acknowledgeIncident } from "@/lib/data/safety/keep-incident";
import { arrivalSchema } from "@/lib/receiving/arrival.schema";
import { draftAnswersSchema } from "@/lib/returns/draft-answers.schema";
import type { MoveRequest } from "@/lib/returns/return-moves";
import { dueFieldOf, readSettingsProposal, statusesWithDueDays } from "@/lib/returns/settings-proposal.schema";
import { calendarDate } from "@/lib/warranty/calendar";
import { leaveProtocolOut } from "@/tests/support/decide-return";
import { declareForSending } from "@/tests/support/pack-for-sending";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

const now = new Date("2026-10-05T09:00:00Z");
const days = (count: number, minutes = 0) => new Date(now.getTime() + count * 86_400_000 + minutes * 60_000);
let fleet: SmallFleet;
let nextPack = 0;
let pager: http.Server;
const heard: unknown[] = [];
let answerOfPager = 200;

beforeAll(async () => {
  fleet = await createSmallFleet({ packs: 20 });
  pager = http.createServer((request, response) => {
    let body = "";
    request.on("data", (chunk) => {
      body += chunk;
    });
    request.on("end", () => {
      heard.push(JSON.parse(body));
      response.writeHead(answerOfPager).end();
    });
  });
  await new Promise<void>((resolve) => pager.listen(0, "127.0.0.1", resolve));
  process.env.PAGER_URL = `http://127.0.0.1:${(pager.address() as AddressInfo).port}/call`;
  process.env.APP_URL = "https://returns.example";
});

afterAll(async () => {
  delete process.env.PAGER_URL;
  delete process.env.APP_URL;
  await new Promise((resolve) => pager.close(resolve));
});

async function lodged(changes: Parameters<typeof filledForm>[1] = {}): Promise<string> {
  const serial = fleet.others[nextPack++];
  if (serial === undefined) throw new Error("the fleet has no pack left");
  const answer = await lodgeReturn(fleet.berlin, filledForm(serial, changes), now);
  if (!answer.ok) throw new Error(JSON.stringify(answer));
  return answer.reference;
}

async function move(actor: Actor, reference: string, request: MoveRequest, at = now) {
  expect(await makeMove(actor, reference, request, at), `${request.name}`).toMatchObject({ ok: true });
}

const returnOf = (reference: string) =>
  asSystem((tx) =>
    tx.return.findUniqueOrThrow({ where: { reference }, include: { moves: { orderBy: { sequence: "asc" } } } }),
  );
const noticesOf = async (reference: string) => {
  const rows = await asSystem((tx) => tx.notice.findMany({ where: { reference }, orderBy: { key: "asc" } }));
  return rows.map(({ kind, audienceRole }) => (audienceRole === null ? kind : `${kind} to ${audienceRole}`));
};

test("a question without an answer is repeated, proposed to lapse, and let lapse by service alone", async () => {
  const reference = await lodged();
  const ask: MoveRequest = { name: "ask", reason: "Which charger?", seenVersion: 1, stated: { dueOn: "2026-10-09" } };
  await move(fleet.bench, reference, ask);
  expect(await runDueAsSystem(days(2))).toMatchObject({ moved: 0 });
  // Two rounds at once, as two timers may run them: one reminder.
  const both = await Promise.all([runDueAsSystem(days(3, 1)), runDueAsSystem(days(3, 1))]);
  expect(both.map(({ moved }) => moved).sort()).toEqual([0, 1]);
  expect((await runDueAsSystem(days(3, 5))).moved).toBe(0);
  expect((await runDueAsSystem(days(7))).moved).toBe(1);
  expect((await runDueAsSystem(days(8))).moved).toBe(1);
  expect((await runDueAsSystem(days(20))).moved).toBe(0);
  const row = await returnOf(reference);
  expect(row).toMatchObject({ status: "more-information-needed", turn: "maker", version: 5 });
  expect(row.moves.slice(2).map(({ move: name, actorName }) => `${name} ${actorName}`)).toEqual([
    "remind The program, by the calendar",
    "remind The program, by the calendar",
    "propose-lapse The program, by the calendar",
  ]);
  expect(checkHistory(row.moves, row.lastMoveHash)).toMatchObject({ kind: "sound" });
  expect(await noticesOf(reference)).toEqual([
    "lapse-proposed to service-lead",
    "question",
    "question",
    // The second reminder came after the day for the answer.
    "question-overdue",
    "received",
  ]);
  const lapse: MoveRequest = { name: "lapse-unanswered", reason: "Nobody answered.", seenVersion: 5 };
  expect(await makeMove(fleet.berlin, reference, lapse, days(20))).toMatchObject({ reason: "not-allowed" });
  await move(fleet.bench, reference, lapse, days(20));
  expect(await noticesOf(reference)).toContain("lapsed");

  // The answer comes after all: the return goes on where it was asked, and is in the queue again.
  const late: MoveRequest = { name: "take-up-again", reason: "The charger is a C-4.", seenVersion: 6 };
  expect(await makeMove(fleet.sydney, reference, late, days(30))).toMatchObject({ ok: false });
  expect(await makeMove(fleet.finance, reference, late, days(30))).toMatchObject({ reason: "not-allowed" });
  await move(fleet.berlin, reference, late, days(30));
  expect(await returnOf(reference)).toMatchObject({ status: "sent-in", version: 7, turn: "maker" });
  await move(fleet.bench, reference, { name: "withdraw", reason: "Solved itself.", seenVersion: 7 }, days(30));
});

test("a return that lapsed on a question is taken up again by the house, and by nobody while another return of the pack is open", async () => {
  const reference = await lodged();
  await move(fleet.bench, reference, { name: "take", reason: "", seenVersion: 1 });
  await move(fleet.bench, reference, {
    name: "ask",
    reason: "Which charger?",
    seenVersion: 2,
    stated: { dueOn: "2026-10-09" },
  });
  for (const day of [3, 7, 8]) await runDueAsSystem(days(day, 1));
  const { version } = await returnOf(reference);
  await move(
    fleet.bench,
    reference,
    { name: "lapse-unanswered", reason: "No answer.", seenVersion: version },
    days(20),
  );
  const serial = fleet.others[nextPack - 1] ?? fleet.unsold;
  const anew = await lodgeReturn(fleet.berlin, filledForm(serial), days(21));
  if (!anew.ok) throw new Error(JSON.stringify(anew));
  const late: MoveRequest = { name: "take-up-again", reason: "They rang.", seenVersion: version + 1 };
  expect(await makeMove(fleet.lead, reference, late, days(22))).toMatchObject({
    sentence: "Another return of this pack is open: go on there, or close it first.",
  });
  await move(fleet.berlin, anew.reference, { name: "withdraw", reason: "Lodged twice.", seenVersion: 1 }, days(22));
  await move(fleet.lead, reference, late, days(22));
  expect(await returnOf(reference)).toMatchObject({ status: "in-review", turn: "maker" });
  await move(fleet.lead, reference, { name: "withdraw", reason: "Solved itself.", seenVersion: version + 2 }, days(22));
});

test("a permission that was not used ends, the dealer is told, and service may renew it", async () => {
  const reference = await lodged();
  await move(fleet.bench, reference, { name: "take", reason: "", seenVersion: 1 });
  const allow = { reason: "To the bench." };
  const unsaid = await makeMove(fleet.lead, reference, { name: "approve-return", seenVersion: 2, ...allow }, now);
  expect(unsaid).toMatchObject({ reason: "class-missing" });
  await declareForSending(fleet.lead, reference, now);
  await move(fleet.lead, reference, { name: "approve-return", seenVersion: 2, ...allow });
  expect((await runDueAsSystem(days(13))).moved).toBe(0);
  expect((await runDueAsSystem(days(15))).moved).toBe(1);
  expect(await returnOf(reference)).toMatchObject({ status: "lapsed", version: 4 });
  expect(await noticesOf(reference)).toContain("approval-ended");
  await move(fleet.lead, reference, { name: "renew-approval", seenVersion: 4, ...allow }, days(16));
  await move(fleet.bench, reference, { name: "withdraw", reason: "Solved itself.", seenVersion: 5 }, days(16));
});

test("a pack given to its customer meanwhile uses up its class, and nobody goes on telling the dealer to send it", async () => {
  const reference = await lodged();
  await move(fleet.bench, reference, { name: "take", reason: "", seenVersion: 1 });
  await declareForSending(fleet.lead, reference, now);
  await move(fleet.lead, reference, { name: "approve-return", seenVersion: 2, reason: "To the bench." });
  const scan = { scanned: "", cannotBeRead: true };
  const fetched = { to: "with-customer", reason: "Fetched for the weekend.", seenVersion: 0, scan } as const;
  expect(await scanPack(fleet.berlin, reference, fetched, days(0, 5))).toMatchObject({ ok: true });
  expect(await returnOf(reference)).toMatchObject({ status: "return-approved", turn: "maker" });
  expect(await noticesOf(reference)).toEqual(expect.arrayContaining(["wait-to-send", "class-needed to service-lead"]));
});

test("a pack that may not be sent any more is the maker's turn, lapses nothing, and is the dealer's again with a class anew", async () => {
  const reference = await lodged();
  await move(fleet.bench, reference, { name: "take", reason: "", seenVersion: 1 });
  await declareForSending(fleet.lead, reference, now);
  await move(fleet.lead, reference, { name: "approve-return", seenVersion: 2, reason: "To the bench." });
  expect((await runDueAsSystem(days(0, 5))).turnsPassed).toBe(0);
  expect(await returnOf(reference)).toMatchObject({ turn: "dealer", dueAt: days(14) });

  // It falls while it waits: nothing but a flag says so, and no move was made.
  const fell = { to: "isolate", reason: "It fell from the bench.", seenVersion: 0 } as const;
  expect(await flagSafety(fleet.bench, reference, fell, days(0, 6))).toMatchObject({ ok: true });
  // At once: until a round came by, the dealer's page would say "you may send it".
  expect(await returnOf(reference)).toMatchObject({ status: "return-approved", turn: "maker", version: 3 });
  expect((await runDueAsSystem(days(0, 25))).turnsPassed).toBe(0);
  expect(await noticesOf(reference)).toEqual(expect.arrayContaining(["wait-to-send", "class-needed to service-lead"]));
  // Its leave runs out meanwhile, and nobody lets it lapse for that.
  expect((await runDueAsSystem(days(15))).moved).toBe(0);
  const lower = { to: "caution", reason: "Looked at; dented.", seenVersion: 1 } as const;
  expect(await flagSafety(fleet.safetyOfficer, reference, lower, days(16))).toMatchObject({ ok: true });
  await declareForSending(fleet.lead, reference, days(16));
  expect(await returnOf(reference)).toMatchObject({ status: "return-approved", turn: "dealer", dueAt: days(30) });
  const approvals = (await noticesOf(reference)).filter((kind) => kind === "approved");
  expect(approvals).toHaveLength(2);
  expect((await runDueAsSystem(days(16, 5))).turnsPassed).toBe(0);
  await move(fleet.bench, reference, { name: "withdraw", reason: "Solved itself.", seenVersion: 3 }, days(17));
});

/** Decided without work and handed back on the day of the tests. */
async function handedBack(): Promise<string> {
  const reference = await lodged();
  await move(fleet.bench, reference, { name: "take", reason: "", seenVersion: 1 });
  const reason = "Runs as new on the bench.";
  const decision = { remedy: "return-as-is", confirmedFault: "no-fault-found", reason, seenVersion: 2 } as const;
  await leaveProtocolOut(fleet, reference);
  await move(fleet.bench, reference, { name: "propose", reason, seenVersion: 2, decision });
  await move(fleet.lead, reference, { name: "approve", reason: "", seenVersion: 3, stated: { noticesGiven: true } });
  const serial = fleet.others[nextPack - 1] ?? fleet.unsold;
  await move(fleet.bench, reference, {
    name: "ready-without-work",
    reason: "",
    seenVersion: 4,
    stated: { packIsSafe: true },
  });
  await move(fleet.berlin, reference, {
    name: "hand-back",
    reason: "",
    seenVersion: 5,
    stated: { outgoingSerial: serial },
  });
  return reference;
}

test("what was handed back closes after its days, once the money is settled and not before", async () => {
  const reference = await handedBack();
  // Nobody has said what is owed.
  expect((await runDueAsSystem(days(20))).moved).toBe(0);
  const { id, dealerId } = await returnOf(reference);
  await asSystem(async (tx) => {
    const rate = await tx.settlementRate.create({
      data: {
        kind: "freight",
        country: "DE",
        currency: "EUR",
        amountMinor: 4000,
        validFrom: now,
        setByUserId: "f",
        setByName: "F",
        setAt: now,
      },
    });
    await tx.settlementLine.create({
      data: {
        returnId: id,
        dealerId,
        kind: "freight",
        operation: "",
        rateId: rate.id,
        currency: "EUR",
        amountMinor: 4000,
        state: "refused",
        reason: "Not owed.",
        clientKey: randomUUID(),
        claimedByUserId: "u",
        claimedByName: "U",
        claimedAt: now,
      },
    });
  });
  expect((await runDueAsSystem(days(13))).moved).toBe(0);
  expect((await runDueAsSystem(days(20))).moved).toBe(1);
  expect(await returnOf(reference)).toMatchObject({ status: "closed", turn: "nobody", version: 7 });
});

test("an unfinished return is deleted when nobody has touched it for the days that are set", async () => {
  const answers = draftAnswersSchema(randomUUID).parse({ dangerSigns: ["none-of-these"] });
  await keepDraft(fleet.berlin, { answers, reading: null, seenVersion: 0 }, now);
  expect((await runDueAsSystem(days(13))).draftsDeleted).toBe(0);
  expect(await listDrafts(fleet.berlin)).toHaveLength(1);
  expect((await runDueAsSystem(days(15))).draftsDeleted).toBe(1);
  expect(await listDrafts(fleet.berlin)).toEqual([]);
});

test("a pack that lies too long in quarantine is reported to those who answer for it, once", async () => {
  const place = {
    code: "Q1",
    whereItIs: "Yard",
    maxPacks: 3,
    maxEnergyKwh: 9,
    minimumHours: 24,
    overdueAfterHours: 72,
    emergencyNumber: "112",
    onCall: "Porter",
    extinguishing: "Hose",
    assemblyPoint: "Gate",
  };
  expect(await setQuarantinePlace(fleet.safetyOfficer, place)).toEqual({ ok: true });
  const reference = await lodged();
  const arrival = arrivalSchema.parse({ scanned: fleet.unsold, boxCondition: "sound", noSigns: true });
  await recordArrival(fleet.bench, reference, arrival, now);
  expect(await placeInQuarantine(fleet.bench, reference, "Q1", now)).toEqual({ ok: true });
  expect((await runDueAsSystem(days(2))).quarantineAlarms).toBe(0);
  expect((await runDueAsSystem(days(4))).quarantineAlarms).toBe(1);
  expect((await runDueAsSystem(days(5))).quarantineAlarms).toBe(0);
  expect((await noticesOf(reference)).filter((told) => told.startsWith("quarantine"))).toEqual([
    "quarantine-overdue to safety-officer",
    "quarantine-overdue to service-lead",
  ]);
});

test("a measurement in quarantine that nobody takes rings the bench, again and again, and then the safety officer too", async () => {
  const serial = fleet.others[nextPack] ?? fleet.unsold;
  const reference = await lodged();
  await recordArrival(
    fleet.bench,
    reference,
    arrivalSchema.parse({ scanned: serial, boxCondition: "sound", noSigns: true }),
    now,
  );
  expect(await placeInQuarantine(fleet.bench, reference, "Q1", now)).toEqual({ ok: true });
  const watched = { surfaceC: 20, ambientC: 20, terminalV: 54, noVoltageBecause: null };
  await recordWatch(fleet.bench, reference, { ...watched, at: days(0, 5) });
  const rung = async () => (await noticesOf(reference)).filter((told) => told.startsWith("measurement-overdue"));
  await runDueAsSystem(days(0, 60));
  expect(await rung()).toEqual([]);
  const both = await Promise.all([runDueAsSystem(days(0, 95)), runDueAsSystem(days(0, 95))]);
  expect(both.reduce((sum, { measurementAlarms }) => sum + measurementAlarms, 0)).toBeGreaterThanOrEqual(1);
  expect(await rung()).toEqual(["measurement-overdue to service-lead", "measurement-overdue to technician"]);
  await runDueAsSystem(days(0, 200));
  expect(await rung()).toHaveLength(2);
  await runDueAsSystem(days(0, 335));
  expect(await rung()).toHaveLength(5);
  expect(await rung()).toContain("measurement-overdue to safety-officer");
  // The safety officer's board says it first, and it ends with the watch that is begun anew.
  const board = await readQuarantineBoard(fleet.bench, days(0, 335));
  expect(board?.alarms.filter(({ grave }) => grave)).toContainEqual({
    reference,
    grave: true,
    sentence: "Q1: not measured in time after 1 h. Measure it now, or begin the watch anew.",
  });
});

test("an incident calls the safety officer on two ways, again and again, until a named person takes notice", async () => {
  const reference = await lodged({ dangerSigns: ["smoke-or-smell"] });
  const [incident] = await listUnansweredIncidents(fleet.safetyOfficer);
  if (incident === undefined) throw new Error("no incident was opened");
  expect(await listUnansweredIncidents(fleet.lead)).toEqual([]);
  heard.length = 0;
  const both = await Promise.all([runDueAsSystem(now), runDueAsSystem(now)]);
  expect(both.reduce((sum, { calls }) => sum + calls, 0)).toBe(1);
  expect(await runDueAsSystem(days(0, 29))).toMatchObject({ calls: 0 });
  // The second way does not answer: tried again a minute later, under the same number.
  answerOfPager = 503;
  expect(await runDueAsSystem(days(0, 30))).toMatchObject({ calls: 1, pagerSent: 0, pagerFailed: 1 });
  answerOfPager = 200;
  expect(await runDueAsSystem(days(0, 32))).toMatchObject({ calls: 0, pagerSent: 1, pagerFailed: 0 });
  expect(heard).toMatchObject([
    { incident, call: 1 },
    { call: 2 },
    { call: 2, link: `https://returns.example/incidents/${incident}` },
  ]);
  // What goes out of the house names the incident and nothing of the pack, the dealer or the people.
  expect(JSON.stringify(heard)).not.toContain(reference);
  expect(await noticesOf(incident)).toEqual(["incident-call to safety-officer", "incident-call to safety-officer"]);
  for (const actor of [fleet.lead, fleet.bench, fleet.berlin])
    expect(await acknowledgeIncident(actor, incident, 99, days(0, 40))).toMatchObject({ ok: false });
  expect(await acknowledgeIncident(fleet.safetyOfficer, incident, 99, days(0, 40))).toMatchObject({ ok: true });
  expect(await listUnansweredIncidents(fleet.safetyOfficer, days(0, 41))).toEqual([]);
  expect(await runDueAsSystem(days(0, 23 * 60))).toMatchObject({ calls: 0, pagerSent: 0 });
  // Taking notice decides nothing: where every hour counts somebody is called the next day.
  expect(await runDueAsSystem(days(1))).toMatchObject({ calls: 1 });
});

test("periods are proposed by one manager and approved by another, count from their day, and are never edited", async () => {
  const form = {
    ...Object.fromEntries(statusesWithDueDays.map((status) => [dueFieldOf(status), "3"])),
    [dueFieldOf("sent-in")]: "9",
    version: "returns-2",
    validFrom: "2026-10-10",
    why: "The desk is closed for a week.",
    remindersBeforeLapse: "2",
    remindEveryDays: "3",
    objectionDays: "30",
    solvedReopenDays: "30",
    closeAfterDays: "14",
    draftKeptDays: "14",
    contactKeptDays: "730",
    expiryReminderDays: "3",
    callAgainMinutes: "15",
    refundLimitMinor: "500,00",
    lineLimitMinor: "15",
    dayLimitMinor: "60",
    refundDays: "10",
    refundLimitCurrency: "eur",
  };
  const read = readSettingsProposal(form);
  if (read.kind === "problems") throw new Error(JSON.stringify(read.problems));
  expect(await proposeSettings(fleet.lead, read.proposal, now)).toMatchObject({ reason: "not-allowed" });
  const past = { ...read.proposal, validFrom: calendarDate("2026-10-04") };
  expect(await proposeSettings(fleet.manager, past, now)).toMatchObject({ reason: "day-past" });
  expect(await proposeSettings(fleet.manager, read.proposal, now)).toEqual({ ok: true });
  expect(await proposeSettings(fleet.manager2, read.proposal, now)).toMatchObject({ reason: "version-taken" });
  expect(await settleSettings(fleet.manager, "returns-2", "approved", now)).toMatchObject({ reason: "same-person" });
  const later = days(6);
  const inForce = (at: Date) => asSystem((tx) => readReturnSettings(tx, at, "Europe/Berlin"));
  expect((await inForce(later)).version).toBe("returns-1");
  const both = await Promise.all([1, 2].map(() => settleSettings(fleet.manager2, "returns-2", "approved", now)));
  expect(both.filter(({ ok }) => ok)).toHaveLength(1);
  expect([(await inForce(now)).version, (await inForce(later)).version]).toEqual(["returns-1", "returns-2"]);
  expect((await inForce(later)).dueDays["sent-in"]).toBe(9);
  const [newest] = (await listSettingsVersions(fleet.manager, later)) ?? [];
  expect(newest).toMatchObject({ version: "returns-2", isInForce: true, settledByName: "Milo" });
  expect(newest?.changes).toContain("Due while “Sent in”: 9 days (was 2 days)");
  expect(newest?.changes).toContain("A refund is paid after it was agreed within: 10 days (was 14 days)");
  expect(newest?.changes).toContain(
    "What one person passes alone in a day, over all returns, at the most: 60.00 EUR (was 2,500.00 EUR)",
  );
  expect(newest?.changes).toContain(
    "A line of money above this is checked by one and approved by another: 15.00 EUR (was 500.00 EUR)",
  );
  expect(newest?.changes).toContain("The safety officer is called again after: 15 minutes (was 30 minutes)");
  expect(await listSettingsVersions(fleet.berlin)).toBeNull();
  const edit = asSystem((tx) => tx.returnSetting.updateMany({ where: { version: "returns-2" }, data: { values: {} } }));
  await expect(edit).rejects.toThrow(/never edited/);
});

test("where nothing is claimed a named person says that nothing is owed, and then it closes by itself", async () => {
  const reference = await handedBack();
  const said = { reference, reason: "Nothing was done at the dealer's." };
  expect((await runDueAsSystem(days(20))).moved).toBe(0);
  expect(await listReturnsWithoutLine(fleet.lead)).toMatchObject([{ reference, remedy: "return-as-is" }]);
  for (const actor of [fleet.berlin, fleet.bench]) {
    expect(await listReturnsWithoutLine(actor)).toBeNull();
    expect(await stateNothingOwed(actor, said, days(1))).toMatchObject({ ok: false });
  }
  const both = await Promise.all([1, 2].map(() => stateNothingOwed(fleet.finance, said, days(1))));
  expect(both.filter(({ ok }) => ok)).toHaveLength(1);
  expect(await listReturnsWithoutLine(fleet.lead)).toEqual([]);
  expect((await runDueAsSystem(days(20))).moved).toBe(1);
  expect(await returnOf(reference)).toMatchObject({ status: "closed" });
});

test("returns that nothing moves never keep the others out, however few a round looks at", async () => {
  const stuck = [await handedBack(), await handedBack()];
  const asked = await lodged();
  await move(fleet.bench, asked, { name: "ask", reason: "Which?", seenVersion: 1, stated: { dueOn: "2026-10-30" } });
  // As many rounds of one return as there are returns: each has its turn, and the reminder is among them.
  const waiting = await asSystem((tx) =>
    tx.return.count({ where: { status: { in: ["more-information-needed", "return-approved", "handed-back"] } } }),
  );
  let moved = 0;
  for (let round = 0; round < waiting; round += 1) moved += (await runDueAsSystem(days(5, round), 1)).moved;
  expect((await returnOf(asked)).moves.at(-1)?.move).toBe("remind");
  expect(moved).toBe(1);
  for (const reference of stuck) expect(await returnOf(reference)).toMatchObject({ status: "handed-back" });
});
