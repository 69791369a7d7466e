import { beforeAll, expect, test } from "vitest";
import type { Actor } from "@/lib/access/actor";
import { faultCodingSchema } from "@/lib/bench-tests/fault-coding.schema";
import { noFaultSteps } from "@/lib/bench-tests/no-fault-protocol";
import { planField } from "@/lib/bench-tests/plan-proposal";
import { resultEntrySchema } from "@/lib/bench-tests/result-entry.schema";
import { readBenchTests } from "@/lib/data/bench-tests/bench-test-page";
import { type BenchTestAnswer, recordTestResult, waiveTest } from "@/lib/data/bench-tests/bench-tests";
import { listDoubtfulResults } from "@/lib/data/bench-tests/doubtful-results";
import { codeFault } from "@/lib/data/bench-tests/fault-codings";
import { recordCalibration } from "@/lib/data/bench-tests/instruments";
import { recordNoFaultStep, startNoFault, waiveNoFault } from "@/lib/data/bench-tests/no-fault";
import { listPlanScopes, proposeTestPlan, settleTestPlan } from "@/lib/data/bench-tests/test-plans";
import { asActor, asSystem } from "@/lib/data/database";
import { readLetter } from "@/lib/data/remedies/letters";
import { readCodingChangesSince } from "@/lib/data/returns/changes-since";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { makeMove } from "@/lib/data/returns/move-return";
import { flagSafety, setLegalHold } from "@/lib/data/returns/move-track";
import type { Decision } from "@/lib/returns/decision.schema";
import {
  approveSmallFleetPlan,
  bringToBench,
  certificate,
  codeOf,
  layOutInstruments,
  smallFleetTests,
} from "@/tests/support/bring-to-bench";
import { takeAndDecide } from "@/tests/support/decide-return";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";
import { expectWrittenOnce } from "@/tests/support/written-once";

withTestDatabase();

const now = new Date("2026-10-05T09:00:00Z");
const after = (hours: number) => new Date(now.getTime() + hours * 3_600_000);
let fleet: SmallFleet;
let planId = "";
let nextPack = 0;
/** A return with results, for the cases that only look at them. */
let measured = "";

beforeAll(async () => {
  fleet = await createSmallFleet({ packs: 14 });
  planId = await approveSmallFleetPlan();
  await layOutInstruments(fleet);
});

function onBench(): Promise<string> {
  const serial = fleet.others[nextPack++];
  if (serial === undefined) throw new Error("the fleet has no pack left");
  return bringToBench(fleet, serial, now);
}

/** A result in the middle of the limits, or what is given. */
function record(
  reference: string,
  testKey: string,
  over: Readonly<Record<string, string>> = {},
  { actor = fleet.bench, at = after(1) }: { actor?: Actor; at?: Date } = {},
): Promise<BenchTestAnswer> {
  const found = smallFleetTests.find(({ key }) => key === testKey);
  if (found === undefined) throw new RangeError(testKey);
  const { reading } = found;
  const sound =
    reading.kind === "look"
      ? { seen: "as-expected" }
      : {
          instrument: codeOf(reading.instrument),
          value: String(
            (reading.limits.lower ?? 0) +
              ((reading.limits.upper ?? (reading.limits.lower ?? 0) * 2) - (reading.limits.lower ?? 0)) / 2,
          ),
        };
  const entry = resultEntrySchema.parse({ reference, planId, testKey, ...sound, ...over });
  return recordTestResult(actor, entry, at);
}

/** As if every mandatory test had been made and was inside; written past the program, which other cases try. */
async function allAreInside(reference: string): Promise<void> {
  await asSystem(async (tx) => {
    const { id } = await tx.return.findUniqueOrThrow({ where: { reference }, select: { id: true } });
    const done = { returnId: id, planId, purpose: "finding", seen: "as-expected", verdict: "inside", note: "" };
    await tx.testResult.createMany({
      data: smallFleetTests
        .filter(({ isMandatory }) => isMandatory)
        .map(({ key }) => ({ ...done, testKey: key, byUserId: fleet.bench.userId, byName: "Benno", at: after(1) })),
    });
  });
}

async function setApart(reference: string): Promise<void> {
  const { version } = await asSystem((tx) =>
    tx.track.findFirstOrThrow({
      where: { track: "safety", pack: { returns: { some: { reference } } } },
      select: { version: true },
    }),
  ).catch(() => ({ version: 0 }));
  expect(
    await flagSafety(fleet.bench, reference, { to: "isolate", reason: "It swells.", seenVersion: version }),
  ).toMatchObject({ ok: true });
}

const coding = (over: Readonly<Record<string, string>> = {}) =>
  faultCodingSchema.parse({
    customerSaw: "short-range",
    found: "low-capacity",
    part: "cell",
    cause: "unknown",
    groups: "7",
    howSure: "shown",
    ...over,
  });

function propose(reference: string, over: Partial<Decision> = {}) {
  const decision: Decision = {
    remedy: "repair",
    confirmedFault: "weak-cell",
    reason: "Measured.",
    seenVersion: 6,
    ...over,
  };
  return makeMove(
    fleet.bench,
    reference,
    { name: "propose", reason: "Measured.", seenVersion: 6, decision, stated: { tests: "done" } },
    after(5),
  );
}

test("no decision is proposed before the mandatory tests are done or left out with a reason and the fault is coded", async () => {
  const reference = await onBench();
  // Saying that all were done is worth nothing where the bench keeps what was done.
  expect(await propose(reference)).toMatchObject({ reason: "tests-open" });
  expect(await record(reference, "capacity")).toMatchObject({ ok: false, reason: "evidence-first" });
  for (const key of ["outside", "log-saved", "insulation", "terminal-voltage", "rest-spread"]) {
    expect(await record(reference, key), key).toMatchObject({ ok: true });
  }
  const why = "It arrived cold and leaves tomorrow; the log shows a day at rest.";
  expect(await waiveTest(fleet.bench, { reference, planId, testKey: "rest-drift", why }, after(2))).toEqual({
    ok: true,
  });
  expect(await waiveTest(fleet.bench, { reference, planId, testKey: "leak", why }, after(2))).toMatchObject({
    reason: "not-mandatory",
  });
  // 26 ± 0.13 Ah against 32 Ah, the limit of the plan.
  expect(await record(reference, "capacity", { value: "26" })).toEqual({ ok: true, verdict: "outside" });
  expect(await propose(reference)).toMatchObject({ reason: "tests-open" });
  for (const key of ["group-resistance", "load-drop", "hot-place"]) await record(reference, key);
  expect(await propose(reference)).toMatchObject({ reason: "coding-missing" });
  expect(await codeFault(fleet.bench, reference, coding({ groups: "17" }), 0, after(3))).toMatchObject({
    field: "groups",
  });
  expect(await codeFault(fleet.bench, reference, coding(), 0, after(3))).toEqual({ ok: true, version: 1 });
  expect(await codeFault(fleet.bench2, reference, coding(), 0, after(3))).toMatchObject({
    reason: "someone-changed-this",
  });
  const coded = "Holds less charge than it should; a cell; cause: unknown (shown by a test)";
  expect(await readCodingChangesSince(fleet.bench2, reference, 0)).toEqual({
    was: "Not coded yet",
    now: coded,
    changes: [`${coded}, by ${fleet.bench.name}`],
  });
  expect(await readCodingChangesSince(fleet.bench2, reference, 1)).toBeNull();
  expect(await propose(reference)).toMatchObject({ ok: true });
});

test("a result names its instrument, and one out of calibration or of another kind is refused at that field", async () => {
  const reference = await onBench();
  measured = reference;
  await record(reference, "outside");
  await record(reference, "log-saved");
  const refused = (over: Readonly<Record<string, string>>, at = after(1)) =>
    record(reference, "insulation", over, { at });
  expect(await refused({ instrument: "" })).toMatchObject({ field: "instrument" });
  expect(await refused({ instrument: codeOf("voltmeter") })).toMatchObject({
    field: "instrument",
    sentence: expect.stringMatching(/another kind/),
  });
  const nextYear = new Date("2027-01-01T10:00:00Z");
  expect(await refused({}, nextYear)).toMatchObject({
    field: "instrument",
    sentence: expect.stringMatching(/ended on 31 December 2026/),
  });
  expect(await refused({ value: "50", expandedUncertainty: "0.1" })).toMatchObject({ field: "expandedUncertainty" });
  expect(await refused({ value: "1.05", expandedUncertainty: "0.2" })).toEqual({ ok: true, verdict: "cannot-tell" });
  await recordCalibration(
    fleet.bench,
    certificate(codeOf("leak-tester"), { outcome: "out-of-use", dueOn: "", calibratedOn: "2026-02-01" }),
    now,
  );
  expect(await asSystem((tx) => tx.testResult.count({ where: { return: { reference } } }))).toBe(3);
});

test("a correction is a new entry beside the first, once, with its reason; nothing written is changed", async () => {
  const reference = measured;
  await record(reference, "outside", { seen: "not-as-expected", note: "A dent at the corner." });
  const first = await asSystem((tx) =>
    tx.testResult.findFirst({ where: { return: { reference }, seen: "not-as-expected" }, select: { id: true } }),
  );
  const correctsId = first?.id ?? "";
  expect(await record(reference, "outside", { correctsId })).toMatchObject({ field: "note" });
  expect(await record(reference, "log-saved", { correctsId, note: "Typed at the wrong test." })).toMatchObject({
    ok: false,
  });
  const right = { correctsId, note: "It was the next pack that has the dent." };
  expect(await record(reference, "outside", right, { at: after(2) })).toEqual({ ok: true, verdict: "inside" });
  expect(await record(reference, "outside", right, { at: after(3) })).toMatchObject({ reason: "corrected-already" });
  await expectWrittenOnce(
    () => asSystem((tx) => tx.testResult.findMany({ where: { return: { reference } }, orderBy: { at: "asc" } })),
    () => asSystem((tx) => tx.testResult.updateMany({ data: { verdict: "inside" } })),
  );
});

test("what destroys waits for leave and for every other test, and never happens to a pack held or set apart", async () => {
  const reference = await onBench();
  const open = (over: Readonly<Record<string, string>> = { leaveToDestroy: "The owner, by letter of 2 October" }) =>
    record(reference, "opened", over, { at: after(4) });
  expect(await open()).toMatchObject({ reason: "evidence-first" });
  await allAreInside(reference);
  expect(await open({})).toMatchObject({ field: "leaveToDestroy" });
  expect(
    await setLegalHold(fleet.manager, reference, { to: "held", reason: "A claim is announced.", seenVersion: 0 }),
  ).toMatchObject({ ok: true });
  expect(await open()).toMatchObject({ reason: "on-hold" });
  expect(
    await setLegalHold(fleet.manager, reference, { to: "none", reason: "Settled.", seenVersion: 1 }),
  ).toMatchObject({
    ok: true,
  });
  await setApart(reference);
  expect(await open()).toMatchObject({ reason: "set-apart" });
  // Somebody who sees it swell still writes that down.
  expect(await record(reference, "outside", { seen: "not-as-expected", note: "It swells." })).toEqual({
    ok: true,
    verdict: "outside",
  });
});

test("“no fault found” needs the whole protocol, with a second technician who is one, or the lead's leave", async () => {
  const reference = await onBench();
  await allAreInside(reference);
  const nothing = coding({ found: "nothing-found", part: "none", cause: "unknown", groups: "", howSure: "likely" });
  await codeFault(fleet.bench, reference, nothing, 0, after(2));
  const nff = { remedy: "return-as-is", confirmedFault: "no-fault-found" } as const;
  expect(await propose(reference, nff)).toMatchObject({ reason: "no-fault-untried" });
  expect(await propose(reference, { ...nff, confirmedFault: "unknown" })).toMatchObject({ reason: "no-fault-untried" });
  const step = (name: (typeof noFaultSteps)[number], actor: Actor, outcome: "shown" | "not-shown" = "not-shown") =>
    recordNoFaultStep(actor, reference, { step: name, outcome, note: "As written." }, after(3));
  expect(await step("shaken", fleet.bench)).toMatchObject({ reason: "not-started" });
  expect(await startNoFault(fleet.bench, reference, "The standard tests found nothing.", after(2))).toEqual({
    ok: true,
  });
  for (const name of noFaultSteps.slice(0, -1)) expect(await step(name, fleet.bench), name).toEqual({ ok: true });
  expect(await propose(reference, nff)).toMatchObject({ reason: "no-fault-untried" });
  expect(await step("second-technician", fleet.bench)).toMatchObject({ reason: "not-second" });
  expect(await step("second-technician", fleet.bench2, "shown")).toEqual({ ok: true });
  expect(await propose(reference, nff)).toMatchObject({ reason: "no-fault-showed" });
  // What showed once has shown: who saw it does not write it over, somebody else may.
  expect(await step("second-technician", fleet.bench2)).toEqual({ ok: true });
  expect(await propose(reference, nff)).toMatchObject({ reason: "no-fault-showed" });
  expect(await step("shaken", fleet.bench2)).toMatchObject({ reason: "was-second" });
  expect(await step("second-technician", fleet.lead)).toEqual({ ok: true });
  expect(await propose(reference, nff)).toMatchObject({ ok: true });
});

test("a step of the protocol under load is not made on a pack that is set apart, nor before it is on the bench", async () => {
  const reference = await onBench();
  const step = (outcome: "shown" | "not-shown", name: (typeof noFaultSteps)[number] = "full-load") =>
    recordNoFaultStep(fleet.bench, reference, { step: name, outcome, note: "As written." }, after(3));
  await startNoFault(fleet.bench, reference, "The standard tests found nothing.", after(2));
  // Nothing has been measured yet: what a load would spoil comes first.
  expect(await step("not-shown")).toMatchObject({ reason: "evidence-first" });
  await allAreInside(reference);
  expect(await step("not-shown")).toEqual({ ok: true });
  await setApart(reference);
  expect(await step("not-shown")).toMatchObject({ reason: "set-apart" });
  const page = await readBenchTests(fleet.bench, reference);
  expect(page?.noFault.steps.find(({ step: one }) => one === "full-load")).toMatchObject({
    stop: expect.stringMatching(/set apart/),
    outcomes: ["shown", "not-possible"],
  });
  expect(await step("not-shown", "ask-dealer")).toEqual({ ok: true });
  // It showed, and so it was set apart: that is written down.
  expect(await step("shown")).toEqual({ ok: true });
});

test("the lead alone leaves the protocol out, and the database holds to it", async () => {
  const reference = await onBench();
  const why = "The pack is exchanged whatever is found; agreed with the dealer.";
  expect(await waiveNoFault(fleet.bench, reference, why)).toMatchObject({ ok: false });
  await expect(
    asActor(fleet.bench, async (tx) => {
      const { id } = await tx.return.findUniqueOrThrow({ where: { reference }, select: { id: true } });
      const row = { returnId: id, kind: "waived", note: why, byUserId: "x", byName: "X", at: now };
      await tx.noFaultEntry.create({ data: row });
    }),
  ).rejects.toThrow(/row-level security/);
  expect(await waiveNoFault(fleet.lead, reference, why, after(1))).toEqual({ ok: true });
  await allAreInside(reference);
  await codeFault(fleet.bench, reference, coding(), 0, after(2));
  expect(await propose(reference, { remedy: "return-as-is", confirmedFault: "no-fault-found" })).toMatchObject({
    ok: true,
  });
});

test("what solved similar returns is told of the pack the customer has since: the replacement's own fault counts", async () => {
  const reference = measured;
  await codeFault(fleet.bench, reference, coding(), 0, after(2));
  const decided = async (over: Partial<Omit<Decision, "seenVersion">>, at: Date) => {
    const serial = fleet.others[nextPack++];
    if (serial === undefined) throw new Error("the fleet has no pack left");
    const lodged = await lodgeReturn(fleet.berlin, filledForm(serial), at);
    if (!lodged.ok) throw new Error(JSON.stringify(lodged));
    const found = { remedy: "repair", confirmedFault: "weak-cell", reason: "Measured at the bench." } as const;
    await takeAndDecide(fleet, lodged.reference, { ...found, ...over }, at);
    return asSystem((tx) => tx.return.findUniqueOrThrow({ where: { reference: lodged.reference } }));
  };
  const replaced = await decided({ remedy: "replace", replacementRevisionCode: "QP-B" }, now);
  const similar = async () => (await readBenchTests(fleet.bench, reference, after(48)))?.similar;
  const kinds = async () => (await similar())?.solved.map(({ remedy, cameBack, count }) => [remedy, cameBack, count]);
  // Decided, but nobody has a pack yet.
  expect(await kinds()).toEqual([]);
  const given = await decided({ confirmedFault: "sense-wire" }, after(24));
  await asSystem(async (tx) => {
    const packs = { oldPackId: replaced.packId, newPackId: given.packId };
    await tx.replacement.createMany({ data: [{ ...packs, deliveredOn: now }] });
    await tx.return.update({ where: { id: replaced.id }, data: { status: "closed", version: { increment: 1 } } });
  });
  expect(await kinds()).toEqual([["replace", 1, 1]]);
  expect((await similar())?.solved[0]?.daysSince).toEqual({ least: 2, most: 2 });
  await asSystem((tx) =>
    tx.return.update({ where: { id: given.id }, data: { status: "withdrawn", version: { increment: 1 } } }),
  );
  expect(await kinds()).toEqual([["replace", 0, 1]]);
});

test("a plan is changed by two people; what is on the bench keeps the plan it began with", async () => {
  const reference = await onBench();
  const typed = Object.fromEntries(
    smallFleetTests.flatMap(({ key, isMandatory, reading }) => [
      ...(isMandatory && key !== "rest-drift" ? [[planField(key, "mandatory"), "on"]] : []),
      ...(key === "rest-spread" && reading.kind === "number" ? [[planField(key, "limits.upper"), "25"]] : []),
    ]),
  );
  const proposal = { scope: "QP", onVersion: 1, why: "The new cells lie closer together." };
  expect(await proposeTestPlan(fleet.bench, proposal, typed)).toMatchObject({ reason: "not-allowed" });
  expect(await proposeTestPlan(fleet.lead, proposal, { ...typed, "rest-spread.limits.upper": "low" })).toMatchObject({
    problems: [{ field: "rest-spread.limits.upper" }],
  });
  expect(await proposeTestPlan(fleet.manager2, proposal, typed, after(1))).toEqual({ ok: true });
  expect(await proposeTestPlan(fleet.manager, proposal, typed)).toMatchObject({ reason: "proposal-open" });
  const proposed = async () => (await listPlanScopes(fleet.bench))?.find(({ scope }) => scope === "QP")?.plans[0];
  const { id = "", changes } = (await proposed()) ?? {};
  expect(changes).toEqual([
    expect.stringMatching(/limits from 30 mV or less .* to 25 mV or less/),
    expect.stringMatching(/no longer mandatory/),
  ]);
  expect(await settleTestPlan(fleet.lead, id, "approved")).toMatchObject({ reason: "not-allowed" });
  expect(await settleTestPlan(fleet.manager2, id, "approved")).toMatchObject({ reason: "same-person" });
  expect(await settleTestPlan(fleet.manager, id, "approved", after(2))).toEqual({ ok: true });
  expect((await proposed())?.state).toBe("approved");
  for (const key of ["outside", "log-saved", "insulation", "rest-spread"])
    await record(reference, key, {}, { at: after(3) });
  const [kept] = await asSystem((tx) =>
    tx.testResult.findMany({
      where: { return: { reference }, testKey: "rest-spread" },
      select: { upper: true, planId: true },
    }),
  );
  expect(kept).toEqual({ upper: 30, planId });
  await expectWrittenOnce(
    () => asSystem((tx) => tx.testPlan.findMany({ where: { id } })),
    () => asSystem((tx) => tx.testPlan.updateMany({ where: { id }, data: { why: "Otherwise." } })),
  );
});

test("dealers and finance see nothing of the tests, in the program or past it", async () => {
  const reference = measured;
  for (const actor of [fleet.berlin, fleet.sydney, fleet.finance]) {
    expect(await listPlanScopes(actor)).toBeNull();
    expect(await record(reference, "outside", {}, { actor })).toMatchObject({ reason: "not-found" });
    const seen = await asActor(actor, async (tx) => [
      await tx.testPlan.count(),
      await tx.instrument.count(),
      await tx.calibration.count(),
      await tx.testResult.count(),
      await tx.faultCoding.count(),
      await tx.noFaultEntry.count(),
    ]);
    expect(seen).toEqual([0, 0, 0, 0, 0, 0]);
  }
});

test("an instrument found off puts what it measured in doubt: the verdict stays, the return is listed, no proposal rests on it", async () => {
  const reference = await onBench();
  await record(reference, "outside");
  await record(reference, "log-saved");
  expect(await record(reference, "insulation", { value: "480" })).toEqual({ ok: true, verdict: "inside" });
  const letterFor = async (actor: Actor) => {
    const letter = await readLetter(actor, reference, "finding-letter", "en");
    if (letter?.outcome.kind !== "letter") throw new Error("no letter");
    return letter.outcome.letter.parts.flatMap(({ points }) => points);
  };
  const told =
    "Insulation between poles and case: 480 ± 2.4 MΩ; limits: 1 MΩ or more; instrument INSU-1. Within the limits.";
  // The dealer reads no result, and the customer is told of it all the same.
  expect(await letterFor(fleet.berlin)).toContain(told);
  expect(await letterFor(fleet.bench)).toContain(told);
  expect(await listDoubtfulResults(fleet.bench)).toEqual([]);

  const rowsBefore = await resultRows(reference);
  const found = { asFound: "off", calibratedOn: "2026-10-05", dueOn: "2027-10-05", certificate: "Certificate 2" };
  expect(await recordCalibration(fleet.bench, certificate(codeOf("insulation-tester"), found), after(2))).toEqual({
    ok: true,
  });
  expect(await resultRows(reference)).toEqual(rowsBefore);
  const listed = await listDoubtfulResults(fleet.bench2);
  expect(listed?.filter((one) => one.reference === reference)).toMatchObject([
    { testTitle: "Insulation between poles and case", instrumentCode: "INSU-1", isMadeAgain: false },
  ]);
  expect(listed?.some((one) => one.reference === measured)).toBe(true);
  expect(await listDoubtfulResults(fleet.berlin)).toBeNull();
  const page = await readBenchTests(fleet.bench, reference, after(3));
  const insulation = page?.tests.find(({ test: { key } }) => key === "insulation");
  expect(insulation?.state).toMatchObject({ kind: "in-doubt", verdict: "inside" });
  expect(page?.openTitles).toContain("Insulation between poles and case");
  expect((await letterFor(fleet.bench)).join()).toMatch(/In doubt: the instrument was later found to be off/);

  expect(await record(reference, "insulation", { value: "470" }, { at: after(4) })).toEqual({
    ok: true,
    verdict: "inside",
  });
  const now = await listDoubtfulResults(fleet.bench);
  expect(now?.find((one) => one.reference === reference)).toMatchObject({ isMadeAgain: true });
});

function resultRows(reference: string) {
  return asSystem((tx) => tx.testResult.findMany({ where: { return: { reference } }, orderBy: { id: "asc" } }));
}
