import { randomUUID } from "node:crypto";
import { beforeAll, expect, test } from "vitest";
import { asActor, asSystem } from "@/lib/data/database";
import { noticePath } from "@/lib/data/notices/notices";
import { findReturn } from "@/lib/data/returns/find-return";
import { lodgeOnBehalf, lodgeReturn } from "@/lib/data/returns/lodge-return";
import { makeMove } from "@/lib/data/returns/move-return";
import { dropDraft, keepDraft, listDrafts, readDraft, startDraftFor } from "@/lib/data/returns/return-drafts";
import { loadStanding } from "@/lib/data/returns/return-standing";
import { readDealerReturn } from "@/lib/data/returns/returns";
import { runDueAsSystem } from "@/lib/data/returns/run-due";
import { listUnansweredIncidents } from "@/lib/data/safety/incident-calls";
import { listIncidents, openIncidentsOfReturn, readIncident } from "@/lib/data/safety/incidents";
import { listUnsentDangers } from "@/lib/data/safety/unsent-dangers";
import { groupSerial } from "@/lib/packs/serial";
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
  ...draftAnswersSchema(randomUUID).parse({ dangerSigns: ["none-of-these"] }),
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
  expect(await startDraftFor(fleet.berlin, "B", answers, now)).toBe("no-dealer");
  expect(await startDraftFor(fleet.bench, "nobody", answers, now)).toBe("no-dealer");
  expect(await startDraftFor(fleet.bench, "B", answers, now)).toBe("kept");
  const hot = answersOf({ dangerSigns: ["hot"] });
  expect(await startDraftFor(fleet.bench, "B", hot, now)).toBe("danger-told");
  expect(await listDrafts(fleet.berlin)).toMatchObject([{ isOnBehalf: true, startedByName: "Benno" }]);
  expect(await listDrafts(fleet.sydney)).toEqual([]);
  const sent = await lodgeReturn(fleet.berlin, form, now);
  const page = await readDealerReturn(fleet.berlin, sent.ok ? sent.reference : "");
  expect(page?.moves[0]?.reason).toBe("Lodged by the dealer; begun for the dealer by Benno of the maker's service.");
  const loaded = await asSystem((tx) => loadStanding(tx, sent.ok ? sent.reference : "", now));
  expect(loaded?.standing.past).toMatchObject({
    lodgedByUserId: fleet.berlin.userId,
    begunByUserId: fleet.bench.userId,
  });
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

test("a danger told in an unsent return is known from its first save on: pack set apart, incident, notices, and never deleted", async () => {
  const form = filledForm(fleet.others[1] ?? fleet.unsold, { dangerSigns: ["someone-hurt"] });
  const answers = answersOf({ clientKey: form.clientKey, dangerSigns: ["someone-hurt"] });
  const later = new Date(now.getTime() + 60_000);
  expect(await keepDraft(fleet.berlin, kept(answers, 0), now)).toEqual({ ok: true, version: 1 });
  expect(await keepDraft(fleet.berlin, kept({ ...answers, serial: form.serial }, 1), later)).toMatchObject({
    ok: true,
  });
  expect(await keepDraft(fleet.berlin, kept({ ...answers, serial: form.serial }, 2), later)).toMatchObject({
    ok: true,
  });
  const [opened, ...more] = (await listIncidents(fleet.safetyOfficer, later))?.open ?? [];
  expect(more).toEqual([]);
  expect(opened?.state).toMatchObject({
    flags: ["burn-shock-or-injury"],
    firstKnown: { kind: "dealer-entry", at: now },
  });
  const told = await asSystem((tx) =>
    tx.notice.findMany({
      where: { reference: opened?.reference ?? "" },
      orderBy: { key: "asc" },
      select: { kind: true },
    }),
  );
  expect(told.map(({ kind }) => kind)).toEqual(["danger-raised", "danger-raised", "safety"]);

  await dropDraft(fleet.berlin, answers.clientKey);
  expect(await listDrafts(fleet.berlin)).toEqual([]);
  await expect(asSystem((tx) => tx.returnDraft.deleteMany())).rejects.toThrow(/a danger was told/);
  const old = new Date(now.getTime() + 400 * 86_400_000);
  expect((await runDueAsSystem(old)).draftsDeleted).toBe(0);

  const sent = await lodgeReturn(fleet.berlin, form, later);
  if (!sent.ok) throw new Error(JSON.stringify(sent));
  expect(await openIncidentsOfReturn(fleet.berlin, sent.reference)).toEqual([opened?.reference]);
  expect((await readIncident(fleet.safetyOfficer, opened?.reference ?? "", later))?.state.firstKnown.at).toEqual(now);
  expect(await asSystem((tx) => tx.returnDraft.count({ where: { clientKey: form.clientKey } }))).toBe(0);
});

test("a fall told in an unsent return sets its pack apart, and the desk reads it under the serial", async () => {
  const serial = fleet.others[2] ?? fleet.unsold;
  const answers = answersOf({ dangerSigns: ["impact-or-water"], serial });
  expect(await keepDraft(fleet.berlin, kept(answers, 0), now)).toMatchObject({ ok: true });
  expect(await findReturn(fleet.lead, serial)).toMatchObject({
    sentence: expect.stringMatching(
      /no return of it was ever lodged.*set apart: Told in a return that is not sent yet.*By Berta/,
    ),
  });
  const [told] = await asSystem((tx) =>
    tx.notice.findMany({
      where: { kind: "danger-raised", audienceRole: "safety-officer" },
      orderBy: { queuedAt: "desc" },
    }),
  );
  expect(noticePath("danger-raised", told?.reference ?? "", false)).toBe(`/bench?find=${groupSerial(serial)}`);
});

test("a fall told without a serial, or with one nobody knows, reaches those who answer, by its dealer and once a sign", async () => {
  const answers = answersOf({ dangerSigns: ["impact-or-water"] });
  const unsent = () =>
    asSystem((tx) =>
      tx.notice.findMany({
        where: { kind: "danger-raised", reference: "unsent return of B", key: { contains: answers.clientKey } },
        orderBy: { key: "asc" },
        select: { audienceRole: true, reference: true },
      }),
    );
  expect(await keepDraft(fleet.berlin, kept(answers, 0), now)).toMatchObject({ ok: true });
  expect((await unsent()).map(({ audienceRole }) => audienceRole)).toEqual(["safety-officer", "service-lead"]);
  await keepDraft(fleet.berlin, kept({ ...answers, serial: "QP 24 smudged" }, 1), now);
  expect(await unsent()).toHaveLength(2);
  expect(noticePath("danger-raised", "unsent return of B", false)).toBe("/incidents#unsent");
  expect(await unsentOf(fleet.lead, "QP 24 smudged")).toMatchObject([{ incident: null, signs: ["impact-or-water"] }]);
});

const unsentOf = (actor: SmallFleet["bench"], typed: string) =>
  listUnsentDangers(actor).then((all) => all.filter(({ serialTyped }) => serialTyped === typed));

test("a pack that nobody can name has an incident from the first save on, with its clock and calls, and is held once it is named", async () => {
  const typed = "QP 24 burnt off";
  const answers = answersOf({ dangerSigns: ["swollen"], serial: typed });
  const keep = (change: object, seen: number) =>
    keepDraft(fleet.berlin, kept(answersOf({ ...answers, ...change }), seen), new Date(now.getTime() + seen * 60_000));
  expect(await keep({}, 0)).toMatchObject({ ok: true });
  expect(await keep({ dangerSigns: ["swollen", "leaking"] }, 1)).toMatchObject({ ok: true });
  const [row, ...more] = await unsentOf(fleet.lead, typed);
  expect(more).toEqual([]);
  expect(row).toMatchObject({
    dealer: { town: "Berlin" },
    signs: ["swollen", "leaking"],
    since: now,
    isDropped: false,
  });
  for (const actor of [fleet.bench, fleet.finance, fleet.berlin, fleet.sydney])
    expect(await unsentOf(actor, typed)).toEqual([]);
  const reference = row?.incident ?? "";
  expect(await listUnansweredIncidents(fleet.safetyOfficer, now)).toContain(reference);
  const incident = await readIncident(fleet.safetyOfficer, reference, now);
  expect(incident).toMatchObject({ pack: null, dealer: { town: "Berlin" }, returnReference: null });
  expect(incident?.state).toMatchObject({ flags: ["swelling", "leak"], countries: ["DE"], firstKnown: { at: now } });
  expect(incident?.clocks.length).toBeGreaterThan(0);

  const serial = fleet.others[3] ?? fleet.unsold;
  expect(await keep({ serial }, 2)).toMatchObject({ ok: true });
  const named = await asSystem((tx) =>
    tx.incident.findUniqueOrThrow({ where: { reference }, select: { pack: { select: { serial: true } } } }),
  );
  expect(named.pack?.serial).toBe(serial);
  const flagged = await asSystem((tx) => tx.track.findFirst({ where: { track: "safety", pack: { serial } } }));
  expect(flagged?.state).toBe("isolate");
  // The return that is sent in the end is this incident's, and no second one is opened.
  const sent = await lodgeReturn(
    fleet.berlin,
    filledForm(serial, { clientKey: answers.clientKey, dangerSigns: ["swollen", "leaking"] }),
    new Date(now.getTime() + 600_000),
  );
  if (!sent.ok) throw new Error(JSON.stringify(sent));
  expect(await openIncidentsOfReturn(fleet.berlin, sent.reference)).toEqual([reference]);
});

test("a serial that is typed only when the return is sent names the pack of the incident as well", async () => {
  const answers = answersOf({ dangerSigns: ["swollen"], serial: "QP 24 unread" });
  await keepDraft(fleet.berlin, kept(answers, 0), now);
  const [row] = await unsentOf(fleet.lead, "QP 24 unread");
  const form = filledForm(fleet.others[4] ?? fleet.unsold, { clientKey: answers.clientKey, dangerSigns: ["swollen"] });
  const sent = await lodgeReturn(fleet.berlin, form, new Date(now.getTime() + 60_000));
  if (!sent.ok) throw new Error(JSON.stringify(sent));
  expect(await openIncidentsOfReturn(fleet.berlin, sent.reference)).toEqual([row?.incident]);
  await dropDraft(fleet.berlin, answers.clientKey);
});
