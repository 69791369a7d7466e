import { randomUUID } from "node:crypto";
import { beforeAll, expect, test } from "vitest";
import { asActor } from "@/lib/data/database";
import { lodgeOnBehalf, lodgeReturn } from "@/lib/data/lodge-return";
import { makeMove } from "@/lib/data/move-return";
import { dropDraft, keepDraft, listDrafts, readDraft, startDraftFor } from "@/lib/data/return-drafts";
import { readDealerReturn } from "@/lib/data/returns";
import { type DraftAnswers, draftAnswersSchema } from "@/lib/returns/draft-answers.schema";
import { approve, propose } from "@/tests/support/decide-return";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

const now = new Date("2026-10-05T09:00:00Z");
let fleet: SmallFleet;

beforeAll(async () => {
  fleet = await createSmallFleet();
});

const answersOf = (changes: Partial<DraftAnswers> = {}): DraftAnswers => ({
  ...draftAnswersSchema.parse({ clientKey: randomUUID(), dangerSigns: ["none-of-these"] }),
  ...changes,
});
const kept = (answers: DraftAnswers, seenVersion: number) => ({ answers, reading: null, seenVersion });

test("an unfinished return is kept for its own dealer, who goes on with it, and for nobody else", async () => {
  const answers = answersOf({ concern: "Geht aus." });
  expect(await keepDraft(fleet.berlin, kept(answers, 0), now)).toEqual({ ok: true, version: 1 });
  expect(await keepDraft(fleet.berlin, kept({ ...answers, serial: fleet.soldInBerlin }, 1), now)).toEqual({
    ok: true,
    version: 2,
  });
  expect(await readDraft(fleet.berlin, answers.clientKey)).toMatchObject({
    version: 2,
    answers: { concern: "Geht aus.", serial: fleet.soldInBerlin },
    savedByName: "Berta",
  });
  expect(await readDraft(fleet.sydney, answers.clientKey)).toBeNull();
  for (const actor of [fleet.sydney, fleet.bench, fleet.manager, fleet.administrator]) {
    expect(await listDrafts(actor)).toEqual([]);
    expect(await asActor(actor, (tx) => tx.returnDraft.count())).toBe(0);
  }
  await dropDraft(fleet.sydney, answers.clientKey);
  expect(await listDrafts(fleet.berlin)).toHaveLength(1);
  await dropDraft(fleet.berlin, answers.clientKey);
  expect(await listDrafts(fleet.berlin)).toEqual([]);
});

test("of two devices the one that is behind overwrites nothing, also when both save first", async () => {
  const answers = answersOf();
  await keepDraft(fleet.berlin, kept(answers, 0), now);
  expect(await keepDraft(fleet.berlin, kept(answers, 0), now)).toMatchObject({ reason: "someone-went-on" });
  expect(await keepDraft(fleet.berlin, kept({ ...answers, concern: "Mine" }, 7), now)).toMatchObject({
    reason: "someone-went-on",
  });
  expect((await readDraft(fleet.berlin, answers.clientKey))?.answers.concern).toBe("");
  expect(await keepDraft(fleet.berlin, kept(answersOf({ dangerSigns: [] }), 0), now)).toMatchObject({
    reason: "nothing-answered",
  });
  await dropDraft(fleet.berlin, answers.clientKey);
});

test("sending takes the draft along, and a late save of another device keeps nothing", async () => {
  const form = filledForm(fleet.soldInBerlin);
  const answers = answersOf({ clientKey: form.clientKey, serial: form.serial });
  await keepDraft(fleet.berlin, kept(answers, 0), now);
  expect(await lodgeReturn(fleet.berlin, form, now)).toMatchObject({ ok: true });
  expect(await listDrafts(fleet.berlin)).toEqual([]);
  expect(await keepDraft(fleet.berlin, kept(answers, 0), now)).toMatchObject({ reason: "sent-already" });
});

test("service begins a return for a dealer, and the dealer finishes and sends it", async () => {
  const form = filledForm(fleet.unsold, { soldOnStated: "2026-09-01", soldOnEvidence: "customer-says" });
  const answers = answersOf({ clientKey: form.clientKey });
  expect(await startDraftFor(fleet.berlin, "B", answers, now)).toBe(false);
  expect(await startDraftFor(fleet.bench, "nobody", answers, now)).toBe(false);
  expect(await startDraftFor(fleet.bench, "B", answers, now)).toBe(true);
  expect(await listDrafts(fleet.berlin)).toMatchObject([{ isOnBehalf: true, startedByName: "Benno" }]);
  expect(await listDrafts(fleet.sydney)).toEqual([]);
  const sent = await lodgeReturn(fleet.berlin, form, now);
  const page = await readDealerReturn(fleet.berlin, sent.ok ? sent.reference : "");
  expect(page?.moves[0]?.reason).toBe("Lodged by the dealer; begun for the dealer by Benno of the maker's service.");
});

test("service lodges on behalf of a dealer: it is the dealer's return, and whoever lodged it never approves it", async () => {
  const form = filledForm(fleet.others[0] ?? fleet.unsold);
  expect(await lodgeOnBehalf(fleet.manager, "B", form, now)).toMatchObject({ ok: false });
  expect(await lodgeOnBehalf(fleet.berlin, "B", form, now)).toMatchObject({ ok: false });
  const sent = await lodgeOnBehalf(fleet.lead, "B", form, now);
  if (!sent.ok) throw new Error(JSON.stringify(sent));
  const page = await readDealerReturn(fleet.berlin, sent.reference);
  expect(page?.moves[0]).toMatchObject({
    actorName: "Lenka",
    reason: "Lodged by the maker's service on behalf of the dealer.",
  });
  expect(await readDealerReturn(fleet.sydney, sent.reference)).toBeNull();
  expect(await makeMove(fleet.bench, sent.reference, { name: "take", reason: "", seenVersion: 1 })).toMatchObject({
    ok: true,
  });
  await propose(fleet.bench, sent.reference, {
    remedy: "isolate",
    confirmedFault: "unknown",
    reason: "Kept apart until it is clear.",
    seenVersion: 2,
  });
  expect(await approve(fleet.lead, sent.reference, 3)).toMatchObject({ reason: "own-return" });
});
