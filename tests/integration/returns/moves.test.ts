import { beforeAll, expect, test } from "vitest";
import { listReturnQueue, readBenchReturn } from "@/lib/data/bench-returns";
import { asSystem } from "@/lib/data/database";
import { historyHash } from "@/lib/data/history";
import { lodgeReturn } from "@/lib/data/lodge-return";
import { decideReturn, takeReturn, withdrawReturn } from "@/lib/data/move-return";
import { readDealerReturn } from "@/lib/data/returns";
import type { Decision } from "@/lib/returns/decision.schema";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { countRows, withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

const now = new Date("2026-10-05T09:00:00Z");
let fleet: SmallFleet;
let nextPack = 0;

beforeAll(async () => {
  fleet = await createSmallFleet();
});

async function lodged(changes: Parameters<typeof filledForm>[1] = {}): Promise<string> {
  const serial = fleet.others[nextPack++] ?? fleet.unsold;
  const answer = await lodgeReturn(fleet.berlin, filledForm(serial, changes), now);
  if (!answer.ok) throw new Error(JSON.stringify(answer));
  return answer.reference;
}

const repair: Decision = {
  remedy: "repair",
  confirmedFault: "sense-wire",
  reason: "Sense lead re-seated and glued; log is quiet.",
  seenVersion: 2,
};

test("taken, then decided, each move stored with who, why and the version", async () => {
  const reference = await lodged();
  expect(await takeReturn(fleet.bench, reference, 1)).toEqual({ ok: true, version: 2 });
  expect(await decideReturn(fleet.bench, reference, repair)).toEqual({ ok: true, version: 3 });
  const page = await readDealerReturn(fleet.berlin, reference);
  expect(page?.status).toBe("decided");
  expect(page?.decision).toMatchObject({
    remedy: "repair",
    confirmedFailure: true,
    decidedByName: "Benno",
    seenVersion: 2,
  });
  expect(page?.moves.map(({ to, actorName }) => `${to} ${actorName}`)).toEqual([
    "sent-in Berta",
    "in-review Benno",
    "decided Benno",
  ]);
});

test("a decision on a stale version is refused and changes nothing", async () => {
  const reference = await lodged();
  await takeReturn(fleet.bench, reference, 1);
  const decisions = await countRows("decision");
  expect(await decideReturn(fleet.bench2, reference, { ...repair, seenVersion: 1 })).toMatchObject({
    ok: false,
    reason: "someone-changed-this",
  });
  expect(await countRows("decision")).toBe(decisions);
});

test("of two people who decide at once exactly one is heard", async () => {
  const reference = await lodged();
  await takeReturn(fleet.bench, reference, 1);
  const answers = await Promise.all([
    decideReturn(fleet.bench, reference, repair),
    decideReturn(fleet.bench2, reference, { ...repair, remedy: "isolate" }),
  ]);
  expect(answers.filter(({ ok }) => ok)).toHaveLength(1);
  const page = await readBenchReturn(fleet.bench, reference);
  expect(page?.version).toBe(3);
  expect(page?.moves).toHaveLength(3);
});

test("neither a dealer nor a manager decides", async () => {
  const reference = await lodged();
  await takeReturn(fleet.bench, reference, 1);
  for (const actor of [fleet.berlin, fleet.manager]) {
    expect(await decideReturn(actor, reference, repair)).toMatchObject({ ok: false, reason: "not-allowed" });
  }
  expect(await takeReturn(fleet.sydney, reference, 2)).toMatchObject({ ok: false, reason: "not-found" });
});

test("a pack under a danger sign is not handed back untouched", async () => {
  const reference = await lodged({ dangerSigns: ["leaking"] });
  await takeReturn(fleet.bench, reference, 1);
  expect(await decideReturn(fleet.bench, reference, { ...repair, remedy: "return-as-is" })).toMatchObject({
    ok: false,
    reason: "safety-open",
  });
  expect(await withdrawReturn(fleet.berlin, reference, 2, "Customer wants it back")).toMatchObject({
    ok: false,
    reason: "safety-open",
  });
  expect(await decideReturn(fleet.bench, reference, { ...repair, remedy: "isolate" })).toMatchObject({ ok: true });
});

test("only a revision that may replace the pack is accepted as its replacement", async () => {
  const reference = await lodged();
  await takeReturn(fleet.bench, reference, 1);
  const replace = { ...repair, remedy: "replace" as const };
  expect(await decideReturn(fleet.bench, reference, { ...replace, replacementRevisionCode: "QP-A" })).toMatchObject({
    ok: false,
    reason: "revision-may-not-replace",
  });
  expect(await decideReturn(fleet.bench, reference, { ...replace, replacementRevisionCode: "QP-B" })).toMatchObject({
    ok: true,
  });
});

test("the dealer withdraws an own return with a reason", async () => {
  const reference = await lodged();
  expect(await withdrawReturn(fleet.berlin, reference, 1, " ")).toMatchObject({ ok: false, reason: "reason-missing" });
  expect(await withdrawReturn(fleet.berlin, reference, 1, "The fuse was the cause.")).toMatchObject({ ok: true });
});

test("the history of every return is one unbroken chain of hashes", async () => {
  const moves = await asSystem((tx) => tx.returnMove.findMany({ orderBy: [{ returnId: "asc" }, { sequence: "asc" }] }));
  expect(moves.length).toBeGreaterThan(10);
  const last = new Map<string, string>();
  for (const move of moves) {
    expect(move.previousHash).toBe(last.get(move.returnId) ?? "0".repeat(64));
    expect(historyHash(move.previousHash, move)).toBe(move.hash);
    last.set(move.returnId, move.hash);
  }
});

test("the queue shows the riskiest first and pages without losing a row", async () => {
  const hot = await lodged({ dangerSigns: ["hot"] });
  const queue = await listReturnQueue(fleet.bench, "open", 1);
  expect(queue?.rows[0]?.reference).toBe(hot);
  expect((await listReturnQueue(fleet.bench, "open", 999))?.page).toBe(1);
  expect(await listReturnQueue(fleet.berlin, "open", 1)).toBeNull();
});

test("the bench sees build record, lots and the known issue of the lot; a dealer sees no bench page", async () => {
  const reference = await lodged();
  const page = await readBenchReturn(fleet.bench, reference);
  expect(page?.build?.capacityAh).toBe(40.6);
  expect(page?.lots).toEqual([{ kind: "cell", code: "CELL-1", supplier: "S1" }]);
  expect(page?.check.known).toMatchObject({ kind: "known-issues", issues: [{ fit: { kind: "nothing-found-yet" } }] });
  expect(page?.check.replacement).toMatchObject({ kind: "may-replace", options: [{ revisionCode: "QP-B" }] });
  expect(await readBenchReturn(fleet.berlin, reference)).toBeNull();
  expect(await readBenchReturn(fleet.bench, "R-26-99999-0")).toBeNull();
});
