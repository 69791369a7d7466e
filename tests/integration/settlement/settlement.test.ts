import { randomUUID } from "node:crypto";
import { beforeAll, expect, test } from "vitest";
import { mintActor } from "@/lib/access/actor";
import { verifyEveryChain } from "@/lib/data/chains/verify-chains";
import { asActor, asSystem, type Transaction } from "@/lib/data/database";
import { listStatements, type MoneyPage, readMoney, readOwnLines, readOwnMoney } from "@/lib/data/money/settlement";
import { type ClaimAnswer, claimMoney } from "@/lib/data/money/settlement-claims";
import { moveLine } from "@/lib/data/money/settlement-moves";
import { endRate, listRates, setRate } from "@/lib/data/money/settlement-rates";
import { closeStatement, payStatement } from "@/lib/data/money/settlement-statements";
import { readLineChangesSince } from "@/lib/data/returns/changes-since";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { makeMove } from "@/lib/data/returns/move-return";
import { returnSettingsSchema } from "@/lib/returns/return-settings.schema";
import { claimSchema, rateEndSchema, rateSchema } from "@/lib/settlement/claim.schema";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

const now = new Date("2026-10-05T09:00:00Z");
let fleet: SmallFleet;
let reference = "";
const finance2 = mintActor({ userId: "user-Frida", name: "Frida", role: "finance", dealerId: null });

beforeAll(async () => {
  fleet = await createSmallFleet();
  const answer = await lodgeReturn(fleet.berlin, filledForm(fleet.soldInBerlin), now);
  if (!answer.ok) throw new Error(JSON.stringify(answer));
  reference = answer.reference;
  // Received past the program: how a pack is received is tried in tests/integration/receiving.
  await asSystem(async (tx) => {
    const [first] = await tx.returnMove.findMany({ where: { return: { reference } } });
    if (first === undefined) throw new Error("no history");
    const { id: _, facts: __, ...row } = first;
    const received = { ...row, sequence: 9, dataVersion: 9, move: "receive", hash: "0".repeat(64) };
    await tx.returnMove.create({ data: received });
  });
});

test("what has not happened is not claimed", async () => {
  expect(await claimMoney(fleet.berlin, labour({ operation: "exchange", minutes: 40 }), now)).toMatchObject({
    field: "reference",
    sentence: expect.stringMatching(/none was exchanged/),
  });
});

const labour = (over: object = {}) =>
  claimSchema.parse({ clientKey: randomUUID(), reference, kind: "labour", operation: "take-in", minutes: 20, ...over });
const rate = (over: object = {}) =>
  rateSchema.parse({
    kind: "labour",
    country: "DE",
    currency: "EUR",
    amount: "62,00",
    validFrom: "2026-01-01",
    ...over,
  });
const linesOf = (page: MoneyPage | null) => (page === null ? [] : [...page.waiting, ...page.done]);
const lineIdOf = (answer: ClaimAnswer) => (answer.ok ? answer.lineId : JSON.stringify(answer));

async function lineNow(lineId: string) {
  const line = linesOf(await readMoney(fleet.finance)).find(({ id }) => id === lineId);
  if (line === undefined) throw new Error(`no line ${lineId}`);
  return line;
}

type LineMove = "check" | "approve" | "refuse" | "reverse";
async function move(actor: typeof fleet.finance, lineId: string, name: LineMove, at = now) {
  const { version } = await lineNow(lineId);
  return moveLine(actor, { lineId, name, seenVersion: version, reason: "Looked at." }, at);
}

test("without a rate a claim is refused at the field and nothing is written", async () => {
  expect(await claimMoney(fleet.berlin, labour(), now)).toEqual({
    ok: false,
    field: "kind",
    sentence: "No rate for labour is set for DE on 5 October 2026. Ask finance to set one first.",
  });
  expect(linesOf(await readOwnMoney(fleet.berlin))).toEqual([]);
});

test("rates are set by finance alone, once a day, and never changed", async () => {
  expect(await setRate(fleet.manager, rate())).toMatchObject({ ok: false });
  expect(await setRate(fleet.finance, rate())).toEqual({ ok: true });
  expect(await setRate(fleet.finance, rate({ kind: "freight", amount: "35" }))).toEqual({ ok: true });
  expect(await setRate(fleet.finance, rate({ amount: "99" }))).toMatchObject({ ok: false, field: "validFrom" });
  // A database whose owner is no superuser hides the row from the change; elsewhere the trigger refuses it.
  const changed = await asSystem((tx) => tx.settlementRate.updateMany({ data: { amountMinor: 1 } })).catch(
    (error: unknown) => {
      expect(String(error)).toMatch(/written once/);
      return { count: 0 };
    },
  );
  expect(changed.count).toBe(0);
  expect(await asSystem((tx) => tx.settlementRate.count({ where: { amountMinor: 1 } }))).toBe(0);
});

test("a currency without a rate is refused at its field, and a second one begins only where the first has ended", async () => {
  expect(await claimMoney(fleet.berlin, labour({ currency: "usd" }), now)).toMatchObject({
    ok: false,
    field: "currency",
    sentence: "No rate for labour is set for DE in USD on 5 October 2026, only in EUR.",
  });
  const francs = rate({ currency: "CHF", kind: "freight", validFrom: "2026-11-01" });
  expect(await setRate(fleet.finance, francs)).toMatchObject({ ok: false, field: "currency" });
  const end = rateEndSchema.parse({
    ...francs,
    currency: "EUR",
    endsOn: "2026-11-01",
    why: "Paid in francs from then.",
  });
  expect(await endRate(fleet.manager, end)).toMatchObject({ ok: false });
  expect(await endRate(fleet.finance, { ...end, country: "FR" })).toMatchObject({ field: "endsOn" });
  expect(await endRate(fleet.finance, end)).toEqual({ ok: true });
  expect(await endRate(fleet.finance, end)).toMatchObject({ field: "endsOn" });
  expect(await setRate(fleet.finance, francs)).toEqual({ ok: true });
  expect((await listRates(fleet.finance)).find(({ kind }) => kind === "freight")).toMatchObject({
    until: "2026-11-01",
  });
  // Francs were a mistake: they end with their own first day, the euro goes on from there, and nothing is left to end.
  const mistake = { ...end, currency: "CHF" };
  const later = rateEndSchema.parse({ ...mistake, endsOn: "2026-12-01" });
  expect(await endRate(fleet.finance, mistake)).toEqual({ ok: true });
  expect(await setRate(fleet.finance, { ...francs, currency: "EUR" })).toEqual({ ok: true });
  expect(await endRate(fleet.finance, later)).toMatchObject({ field: "endsOn" });
  expect(await asActor(fleet.berlin, (tx) => tx.settlementRateEnd.count())).toBe(2);
  await expect(
    asActor(fleet.berlin, (tx) =>
      tx.settlementRateEnd.create({
        data: { ...end, endsOn: now, currency: "CHF", setByUserId: "x", setByName: "x", setAt: now },
      }),
    ),
  ).rejects.toThrow(/row-level security/);
});

test("a claim is one line however often it is sent, and one piece of work is claimed once", async () => {
  const claim = labour();
  const answers = await Promise.all([1, 2, 3].map(() => claimMoney(fleet.berlin, claim, now)));
  expect(new Set(answers.map(lineIdOf)).size).toBe(1);
  expect(await claimMoney(fleet.berlin, labour(), now)).toMatchObject({ ok: false, field: "operation" });
  const own = await readOwnMoney(fleet.berlin);
  expect(own?.waiting).toMatchObject([
    { amountMinor: 2067, currency: "EUR", rateFrom: "2026-01-01", state: "claimed" },
  ]);
});

test("another dealer neither claims on it nor sees it", async () => {
  expect(await claimMoney(fleet.sydney, labour({ operation: "read-out", minutes: 5 }), now)).toMatchObject({
    ok: false,
    field: "reference",
  });
  expect(linesOf(await readOwnMoney(fleet.sydney))).toEqual([]);
  expect(await asActor(fleet.sydney, (tx) => tx.settlementLine.count())).toBe(0);
  expect(await readOwnMoney(fleet.bench)).toBeNull();
  expect(await readMoney(fleet.berlin)).toBeNull();
});

test("a dealer cannot move its own line, not even past the functions", async () => {
  const own = linesOf(await readOwnMoney(fleet.berlin))[0];
  expect(
    await moveLine(fleet.berlin, { lineId: own?.id ?? "", name: "check", seenVersion: 1, reason: "" }),
  ).toMatchObject({
    reason: "not-allowed",
  });
  const moved = await asActor(fleet.berlin, (tx) => tx.settlementLine.updateMany({ data: { state: "checked" } }));
  expect(moved.count).toBe(0);
});

test("whoever claims does not approve, in the function and in the database", async () => {
  const claimed = await claimMoney(fleet.bench, labour({ operation: "read-out", minutes: 15 }), now);
  const lineId = lineIdOf(claimed);
  await move(fleet.finance, lineId, "check");
  const asClaimer = mintActor({ userId: fleet.bench.userId, name: "Benno", role: "finance", dealerId: null });
  expect(await move(asClaimer, lineId, "approve")).toMatchObject({ reason: "same-person" });
  await expect(
    asSystem((tx) =>
      tx.settlementLine.update({
        where: { id: lineId },
        data: { state: "approved", approvedByUserId: fleet.bench.userId, approvedByName: "Benno" },
      }),
    ),
  ).rejects.toThrow(/SettlementLine_two_people/);
  expect(await move(fleet.finance, lineId, "approve")).toEqual({ ok: true });
});

test("two approvals at once give one move of history", async () => {
  const claimed = await claimMoney(fleet.berlin, labour({ operation: "pack-for-carrier", minutes: 25 }), now);
  const lineId = lineIdOf(claimed);
  await move(fleet.finance, lineId, "check");
  const request = { lineId, name: "approve", seenVersion: 2, reason: "" } as const;
  const answers = await Promise.all([moveLine(fleet.finance, request, now), moveLine(finance2, request, now)]);
  expect(answers.filter(({ ok }) => ok)).toHaveLength(1);
  expect(answers.find(({ ok }) => !ok)).toMatchObject({ reason: "someone-changed-this" });
  // Whoever lost reads what it was on the screen and what it is now; a dealer reads nothing of another's line.
  expect(await readLineChangesSince(fleet.finance, lineId, 2)).toEqual({
    was: "Checked",
    now: "Approved",
    changes: [expect.stringMatching(/^Approved, by /)],
  });
  expect(await readLineChangesSince(fleet.sydney, lineId, 2)).toBeNull();
});

test("a statement is closed over approved lines once, and paid once by two people at the same moment", async () => {
  const dealerId = fleet.berlin.dealerId ?? "";
  const closings = await Promise.all([1, 2].map(() => closeStatement(fleet.finance, dealerId, "EUR", now)));
  expect(closings.filter(({ ok }) => ok)).toHaveLength(1);
  const [statement] = await listStatements(fleet.berlin);
  expect(statement).toMatchObject({ totalMinor: 1550 + 2583, paidAt: null });
  const number = statement?.number ?? 0;
  const payments = await Promise.all([
    payStatement(fleet.finance, number, "TRANSFER-1", now),
    payStatement(finance2, number, "TRANSFER-2", now),
    payStatement(finance2, number, "TRANSFER-1", now),
  ]);
  expect(payments.filter((answer) => answer.ok && !answer.repeated)).toHaveLength(1);
  expect(await asSystem((tx) => tx.settlementPayment.count())).toBe(2);
  expect(await payStatement(finance2, number, "TRANSFER-3", now)).toMatchObject({ reason: "paid-otherwise" });
});

test("the database itself pays no line twice and edits none that is paid", async () => {
  const [payment] = await asSystem((tx) => tx.settlementPayment.findMany());
  if (payment === undefined) throw new Error("nothing paid");
  await expect(asSystem((tx) => tx.settlementPayment.create({ data: payment }))).rejects.toThrow(/Unique constraint/);
  await expect(
    asSystem((tx) => tx.settlementLine.update({ where: { id: payment.lineId }, data: { reason: "other" } })),
  ).rejects.toThrow(/never edited/);
  await expect(asSystem((tx) => tx.settlementLine.delete({ where: { id: payment.lineId } }))).rejects.toThrow();
});

test("a reversal is a line of its own, once, and goes the whole way with two people", async () => {
  const [payment] = await asSystem((tx) => tx.settlementPayment.findMany());
  const lineId = payment?.lineId ?? "";
  const before = await lineNow(lineId);
  const both = await Promise.all([move(fleet.finance, lineId, "reverse"), move(finance2, lineId, "reverse")]);
  expect(both.filter(({ ok }) => ok)).toHaveLength(1);
  const waiting = { state: "paid", amountMinor: before.amountMinor, isReversed: false, isReversalOpen: true };
  expect(await lineNow(lineId)).toMatchObject(waiting);
  // Refused, it leaves the line as it was, for everybody who reads it, and free to be reversed again.
  const first = linesOf(await readMoney(fleet.finance)).find(({ isReversal }) => isReversal);
  const refuser = first?.claimedByName === "Frida" ? fleet.finance : finance2;
  expect(await move(refuser, lineId, "reverse")).toMatchObject({ reason: "reversal-open" });
  expect(await move(refuser, first?.id ?? "", "refuse")).toEqual({ ok: true });
  expect(await lineNow(lineId)).toMatchObject({ state: "paid", isReversed: false, isReversalOpen: false });
  expect(await move(fleet.finance, lineId, "reverse")).toEqual({ ok: true });
  const reversal = linesOf(await readMoney(fleet.finance)).find(
    ({ isReversal, state }) => isReversal && state === "claimed",
  );
  expect(reversal).toMatchObject({ amountMinor: -before.amountMinor, state: "claimed", reason: "Looked at." });
  const claimer = reversal?.claimedByName === "Frida" ? finance2 : fleet.finance;
  const other = claimer === finance2 ? fleet.finance : finance2;
  await move(claimer, reversal?.id ?? "", "check");
  expect(await move(claimer, reversal?.id ?? "", "approve")).toMatchObject({ reason: "same-person" });
  const line = await asSystem((tx) => tx.settlementLine.findUniqueOrThrow({ where: { id: lineId } }));
  const anew = labour({ operation: line.operation, minutes: 10 });
  expect(await claimMoney(fleet.bench, anew, now)).toMatchObject({ ok: false, field: "operation" });
  expect(await move(other, reversal?.id ?? "", "approve")).toEqual({ ok: true });
  expect(await lineNow(lineId)).toMatchObject({ isReversed: true, isReversalOpen: false });
  expect(await move(other, lineId, "reverse")).toMatchObject({ reason: "reversed-already" });
  // A wrong reversal is put right as its sentence says: the work is claimed anew, once.
  expect(await move(other, reversal?.id ?? "", "reverse")).toMatchObject({ reason: "not-from-here" });
  expect(await claimMoney(fleet.bench, anew, now)).toMatchObject({ ok: true, repeated: false });
  expect(await claimMoney(fleet.bench, { ...anew, clientKey: randomUUID() }, now)).toMatchObject({ ok: false });
});

test("a refused line carries its reason to the dealer and may be claimed again", async () => {
  const [taken] = linesOf(await readOwnMoney(fleet.berlin)).filter(({ what }) => what.startsWith("Taking in"));
  expect(
    await moveLine(fleet.finance, { lineId: taken?.id ?? "", name: "refuse", seenVersion: 1, reason: " " }),
  ).toMatchObject({ reason: "reason-missing" });
  expect(await move(fleet.finance, taken?.id ?? "", "refuse")).toEqual({ ok: true });
  expect(linesOf(await readOwnMoney(fleet.berlin)).find(({ id }) => id === taken?.id)).toMatchObject({
    state: "refused",
    reason: "Looked at.",
  });
  expect(await claimMoney(fleet.berlin, labour(), now)).toMatchObject({ ok: true, repeated: false });
});

test("nothing is claimed for a return that was withdrawn", async () => {
  const [serial] = fleet.others;
  if (serial === undefined) throw new Error("the fleet has no pack left");
  const lodged = await lodgeReturn(fleet.berlin, filledForm(serial), now);
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  const before = await claimMoney(fleet.berlin, labour({ reference: lodged.reference }), now);
  const withdraw = { name: "withdraw", reason: "The customer changed the charger.", seenVersion: 1 } as const;
  expect(await makeMove(fleet.berlin, lodged.reference, withdraw, now)).toMatchObject({ ok: true });
  const freight = { reference: lodged.reference, kind: "freight", operation: "", minutes: 0 };
  expect(await claimMoney(fleet.berlin, labour(freight), now)).toMatchObject({ ok: false, field: "reference" });
  // What was claimed before is not checked, and finance refuses it.
  expect(await move(fleet.finance, lineIdOf(before), "check")).toMatchObject({ reason: "return-ended" });
  expect(await move(fleet.finance, lineIdOf(before), "refuse")).toEqual({ ok: true });
});

async function lodgedWithNext(position: number): Promise<string> {
  const serial = fleet.others[position];
  if (serial === undefined) throw new Error("the fleet has no pack left");
  const lodged = await lodgeReturn(fleet.berlin, filledForm(serial), now);
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  return lodged.reference;
}

async function approved(of: string, over: object = {}): Promise<string> {
  const lineId = lineIdOf(await claimMoney(fleet.berlin, labour({ reference: of, ...over }), now));
  expect(await move(fleet.finance, lineId, "check")).toEqual({ ok: true });
  expect(await move(fleet.finance, lineId, "approve")).toEqual({ ok: true });
  return lineId;
}

test("a line approved before its return was withdrawn goes into no statement, and one in a statement is reversed first", async () => {
  const dealerId = fleet.berlin.dealerId ?? "";
  const withdraw = { name: "withdraw", reason: "The customer changed the charger.", seenVersion: 1 } as const;
  const [first, second] = [await lodgedWithNext(1), await lodgedWithNext(2)];
  const [approvedLine] = [await approved(first), await approved(second)];
  expect(await makeMove(fleet.berlin, first, withdraw, now)).toMatchObject({ ok: true });
  const closed = await closeStatement(fleet.finance, dealerId, "EUR", now);
  expect(closed).toMatchObject({ ok: true, leftOut: [expect.stringContaining(first)] });
  expect(await lineNow(approvedLine)).toMatchObject({ state: "approved" });
  expect(await move(fleet.finance, approvedLine, "refuse")).toEqual({ ok: true });

  expect(await makeMove(fleet.berlin, second, withdraw, now)).toMatchObject({ ok: true });
  const number = closed.ok ? closed.number : 0;
  expect(await payStatement(fleet.finance, number, "TRANSFER-9", now)).toMatchObject({
    reason: "not-owed",
    sentence: expect.stringContaining(second),
  });
  const line = linesOf(await readMoney(fleet.finance)).find(({ reference: of }) => of === second);
  expect(await move(fleet.finance, line?.id ?? "", "reverse")).toEqual({ ok: true });
  // A reversal that may still be refused takes nothing back.
  expect(await payStatement(fleet.finance, number, "TRANSFER-9", now)).toMatchObject({ reason: "not-owed" });
  const reversal = linesOf(await readMoney(fleet.finance)).find(
    ({ isReversal, reference, state }) => isReversal && reference === line?.reference && state === "claimed",
  );
  expect(await move(fleet.finance, reversal?.id ?? "", "check")).toEqual({ ok: true });
  expect(await move(finance2, reversal?.id ?? "", "approve")).toEqual({ ok: true });
  // Approved, it stands beside its line, so that the statement pays nothing of what is taken back.
  const beside = await asSystem((tx) =>
    tx.settlementStatement.findUniqueOrThrow({
      where: { number },
      select: { totalMinor: true, lines: { select: { id: true, amountMinor: true } } },
    }),
  );
  expect(beside.lines.map(({ id }) => id)).toContain(reversal?.id);
  expect(beside.totalMinor).toBe(beside.lines.reduce((sum, { amountMinor }) => sum + amountMinor, 0));
  const lowered = asSystem((tx) => tx.settlementStatement.update({ where: { number }, data: { totalMinor: 1 } }));
  await expect(lowered).rejects.toThrow(/never edited/);
  expect(await payStatement(fleet.finance, number, "TRANSFER-9", now)).toMatchObject({ ok: true });
  const paid = await asSystem((tx) =>
    tx.settlementPayment.findMany({ where: { statement: { number }, line: { return: { reference: second } } } }),
  );
  expect(paid).toHaveLength(2);
  expect(paid.reduce((sum, { amountMinor }) => sum + amountMinor, 0)).toBe(0);
});

test("two returns of one complaint are paid for once, whichever of them was claimed for first", async () => {
  const dealerId = fleet.berlin.dealerId ?? "";
  const [joined, goesOn] = [await lodgedWithNext(3), await lodgedWithNext(4)];
  const before = await approved(joined);
  await asSystem(async (tx) => {
    const [old, next] = await Promise.all(
      [joined, goesOn].map((of) => tx.return.findUniqueOrThrow({ where: { reference: of }, select: { packId: true } })),
    );
    if (old === undefined || next === undefined) throw new Error("no return");
    const deliveredOn = new Date("2026-09-01");
    await tx.replacement.createMany({ data: [{ oldPackId: old.packId, newPackId: next.packId, deliveredOn }] });
  });
  const merge = { name: "merge", reason: "Lodged twice.", seenVersion: 1, stated: { duplicateOf: goesOn } } as const;
  expect(await makeMove(fleet.bench, joined, merge, now)).toMatchObject({ ok: true });
  expect(await claimMoney(fleet.berlin, labour({ reference: goesOn }), now)).toMatchObject({
    ok: false,
    sentence: expect.stringMatching(/one complaint/),
  });
  expect(await closeStatement(fleet.finance, dealerId, "EUR", now)).toMatchObject({ ok: true, leftOut: [] });
  expect(await lineNow(before)).toMatchObject({ state: "in-statement" });
});

/** As whoever holds the database could: with the triggers of the table off. */
async function pastTheWalls(sql: string, value: string | number | null): Promise<void> {
  await asSystem(async (tx) => {
    await tx.$executeRawUnsafe(`ALTER TABLE "SettlementLine" DISABLE TRIGGER USER, NO FORCE ROW LEVEL SECURITY`);
    await tx.$executeRawUnsafe(sql, value);
    await tx.$executeRawUnsafe(`ALTER TABLE "SettlementLine" ENABLE TRIGGER USER, FORCE ROW LEVEL SECURITY`);
  });
}

async function withoutChecks(table: string, check: string, work: (tx: Transaction) => Promise<unknown>): Promise<void> {
  await asSystem(async (tx) => {
    await tx.$executeRawUnsafe(`ALTER TABLE "${table}" DISABLE TRIGGER USER, NO FORCE ROW LEVEL SECURITY`);
    await tx.$executeRawUnsafe(`ALTER TABLE "${table}" DROP CONSTRAINT "${check}"`);
    await work(tx);
    await tx.$executeRawUnsafe(
      `ALTER TABLE "${table}" ADD CONSTRAINT "${check}" CHECK ("form" IS NOT NULL AND "previousHash" IS NOT NULL AND "hash" ~ '^[0-9a-f]{64}$') NOT VALID`,
    );
    await tx.$executeRawUnsafe(`ALTER TABLE "${table}" ENABLE TRIGGER USER, FORCE ROW LEVEL SECURITY`);
  });
}

test("every line's moves are one chain, and one put in past the program is found", async () => {
  // Returns of this file were moved past the program; their own histories are tried elsewhere.
  const brokenLines = async () => (await verifyEveryChain()).broken.filter(({ chain }) => chain.startsWith("line "));
  expect(await brokenLines()).toEqual([]);
  expect((await verifyEveryChain()).lines).toBeGreaterThan(5);
  // Past every wall and trigger, as whoever holds the database could: amount, currency, operation, approver.
  const paid = await asSystem((tx) => tx.settlementLine.findFirstOrThrow({ where: { state: "paid", kind: "labour" } }));
  for (const [column, value] of [
    ["amountMinor", paid.amountMinor + 1],
    ["currency", "XTS"],
    ["operation", "another"],
    ["approvedByUserId", "somebody else"],
  ] as const) {
    await pastTheWalls(`UPDATE "SettlementLine" SET "${column}" = $1 WHERE "id" = '${paid.id}'`, value);
    expect(await brokenLines(), column).toMatchObject([{ chain: `line ${paid.id}` }]);
    await pastTheWalls(`UPDATE "SettlementLine" SET "${column}" = $1 WHERE "id" = '${paid.id}'`, paid[column]);
  }
  expect(await brokenLines()).toEqual([]);
  // Hashes and mark wiped out do not pass as rows from before there was a chain.
  const wiped = await asSystem((tx) => tx.settlementMove.findMany({ where: { lineId: paid.id } }));
  const bare = { form: null, previousHash: null, hash: null };
  await withoutChecks("SettlementMove", "SettlementMove_chained", (tx) =>
    tx.settlementMove.updateMany({ where: { lineId: paid.id }, data: bare }),
  );
  await asSystem((tx) => tx.chainMark.deleteMany({ where: { chain: `line ${paid.id}` } }));
  expect(
    (await brokenLines()).some(({ sentence }) => /not chained, and only 0 were written before/.test(sentence)),
  ).toBe(true);
  await withoutChecks("SettlementMove", "SettlementMove_chained", async (tx) => {
    for (const { id, form, previousHash, hash } of wiped)
      await tx.settlementMove.update({ where: { id }, data: { form, previousHash, hash }, select: { id: true } });
  });
  const last = wiped.sort((a, b) => a.version - b.version).at(-1);
  await asSystem((tx) =>
    tx.chainMark.create({ data: { chain: `line ${paid.id}`, lastHash: last?.hash ?? "", rows: wiped.length } }),
  );
  expect(await brokenLines()).toEqual([]);
  const moved = await asSystem((tx) =>
    tx.settlementMove.findFirstOrThrow({ where: { to: "paid" }, select: { lineId: true, version: true } }),
  );
  const forged = { from: "paid", to: "approved", actorUserId: "x", actorName: "x", reason: "", at: now };
  const link = { form: "line-history-1", previousHash: "0".repeat(64), hash: "0".repeat(64) };
  await asSystem((tx) =>
    tx.settlementMove.createMany({ data: [{ ...forged, ...link, lineId: moved.lineId, version: moved.version + 1 }] }),
  );
  expect(await brokenLines()).toMatchObject([{ chain: `line ${moved.lineId}` }]);
  await expect(
    asSystem((tx) => tx.settlementMove.createMany({ data: [{ ...forged, lineId: moved.lineId, version: 99 }] })),
  ).rejects.toThrow(/SettlementMove_chained/);
});

test("the balance counts every line, and the file holds them all, however long the ledger grows", async () => {
  const before = await readMoney(fleet.finance);
  // Written past the program: six hundred refusals by hand say nothing more than six hundred rows.
  await asSystem(async (tx) => {
    const row = await tx.settlementLine.findFirstOrThrow({ where: { state: "refused", kind: "labour" } });
    const late = { claimedAt: new Date("2026-10-06T09:00:00Z"), reason: "Claimed twice." };
    await tx.settlementLine.createMany({
      data: Array.from({ length: 600 }, () => ({ ...row, ...late, id: randomUUID(), clientKey: randomUUID() })),
    });
  });
  const after = await readMoney(fleet.finance);
  expect(before?.balances.some(({ paidMinor }) => paidMinor > 0)).toBe(true);
  expect(after?.balances).toEqual(before?.balances);
  expect(after?.waiting).toEqual(before?.waiting);
  expect(after?.done).toHaveLength(100);
  expect(after?.doneInAll).toBe((before?.doneInAll ?? 0) + 600);
  expect((await readOwnLines(fleet.berlin))?.filter(({ state }) => state === "paid").length).toBeGreaterThan(0);
});

test("above the dated limit, alone or with what was passed of its return, whoever checked a line does not approve it", async () => {
  const first = await asSystem((tx) => tx.returnSetting.findUniqueOrThrow({ where: { version: "returns-1" } }));
  const values = returnSettingsSchema.parse(first.values);
  const two = { proposedByUserId: "a", proposedByName: "A", settledByUserId: "b", settledByName: "B" };
  const dated = { version: "returns-2", validFrom: new Date("2026-10-05"), state: "approved", proposedAt: now };
  await asSystem((tx) =>
    tx.returnSetting.create({
      data: { ...dated, ...two, settledAt: now, why: "Four eyes.", values: { ...values, lineLimitMinor: 2100 } },
    }),
  );
  const of = await lodgedWithNext(5);
  // The smaller one passes; with it the next is above the limit, which alone it is not.
  await approved(of, { operation: "read-out", minutes: 15 });
  const lineId = lineIdOf(await claimMoney(fleet.berlin, labour({ reference: of }), now));
  expect(await lineNow(lineId)).toMatchObject({ amountMinor: 2067, isForAnotherApprover: false });
  expect(await move(fleet.finance, lineId, "check")).toEqual({ ok: true });
  expect(await move(fleet.finance, lineId, "approve")).toMatchObject({ reason: "checker-approves" });
  expect(await lineNow(lineId)).toMatchObject({ state: "checked", isForAnotherApprover: true });
  expect(await move(finance2, lineId, "approve")).toEqual({ ok: true });
});

test("above the limit of a day with what one person passed alone of other returns, another approves, until a day has gone by", async () => {
  const first = await asSystem((tx) => tx.returnSetting.findUniqueOrThrow({ where: { version: "returns-1" } }));
  // Two lines of 20.67 go beyond it together, and neither alone; of one return any sum would pass.
  const values = { ...returnSettingsSchema.parse(first.values), lineLimitMinor: 1_000_000, dayLimitMinor: 4133 };
  const two = { proposedByUserId: "a", proposedByName: "A", settledByUserId: "b", settledByName: "B" };
  const dated = { version: "returns-3", validFrom: new Date("2026-10-06"), state: "approved", proposedAt: now };
  await asSystem((tx) =>
    tx.returnSetting.create({ data: { ...dated, ...two, settledAt: now, why: "A day's sum.", values } }),
  );
  const day = (hours: number) => new Date(new Date("2026-10-20T09:00:00Z").getTime() + hours * 3_600_000);
  const checked = async (position: number) => {
    const reference = await lodgedWithNext(position);
    const lineId = lineIdOf(await claimMoney(fleet.berlin, labour({ reference }), now));
    expect(await move(fleet.finance, lineId, "check", day(0))).toEqual({ ok: true });
    return lineId;
  };
  const lines = [await checked(6), await checked(7), await checked(8)] as const;
  expect((await lineNow(lines[0])).amountMinor).toBe(2067);
  expect(await move(fleet.finance, lines[0], "approve", day(0))).toEqual({ ok: true });
  expect(await move(fleet.finance, lines[1], "approve", day(23))).toMatchObject({ reason: "checker-approves" });
  // What another passed counts for that person alone.
  expect(await move(finance2, lines[1], "approve", day(23))).toEqual({ ok: true });
  expect(await move(fleet.finance, lines[2], "approve", day(23.9))).toMatchObject({ reason: "checker-approves" });
  expect(await move(fleet.finance, lines[2], "approve", day(24))).toEqual({ ok: true });
});

test("work is paid at the rate of the day it was done, whenever it is claimed", async () => {
  const raised = { kind: "freight", country: "AU", currency: "AUD" } as const;
  for (const [amount, validFrom] of [
    ["40", "2026-01-01"],
    ["90", "2026-11-01"],
  ] as const)
    expect(await setRate(fleet.finance, rate({ ...raised, amount, validFrom }))).toEqual({ ok: true });
  const lodged = await lodgeReturn(fleet.sydney, filledForm(fleet.soldInSydney), now);
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  await asSystem(async (tx) => {
    const [first] = await tx.returnMove.findMany({ where: { return: { reference: lodged.reference } } });
    if (first === undefined) throw new Error("no history");
    const { id: _, facts: __, ...row } = first;
    for (const [sequence, moved, at] of [
      [8, "hand-to-carrier", "2026-10-31T11:00:00Z"],
      [9, "receive", "2026-11-04T09:00:00Z"],
    ] as const)
      await tx.returnMove.create({
        data: {
          ...row,
          sequence,
          dataVersion: sequence,
          move: moved,
          at: new Date(at),
          hash: `${sequence}`.repeat(64),
        },
      });
  });
  const claim = labour({ reference: lodged.reference, kind: "freight", operation: "", minutes: 0 });
  const answer = await claimMoney(fleet.sydney, claim, new Date("2026-12-01T09:00:00Z"));
  // Handed to the carrier on 31 October in Sydney, where the dearer rate begins on 1 November.
  expect(await lineNow(lineIdOf(answer))).toMatchObject({ amountMinor: 4000, rateFrom: "2026-01-01" });
});
