import sharp from "sharp";
import { beforeAll, expect, test } from "vitest";
import { type Actor, mintActor } from "@/lib/access/actor";
import { asActor, asSystem } from "@/lib/data/database";
import { keepPackPhoto, openPackPhoto } from "@/lib/data/packs/pack-photos";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { makeDueMoveAsSystem, makeMove } from "@/lib/data/returns/move-return";
import { flagSafety } from "@/lib/data/returns/move-track";
import { readPackTracks } from "@/lib/data/returns/track-rows";
import { tellDanger } from "@/lib/data/safety/tell-danger";
import { declareTransportClass, reviveSendingLeave } from "@/lib/data/transport/declare-transport";
import { readPackingOf, recordPackingCheck } from "@/lib/data/transport/packing-check";
import { readSheet, recordPrint } from "@/lib/data/transport/printed-sheets";
import { proposeTransportClass } from "@/lib/data/transport/propose-class";
import { readTransport } from "@/lib/data/transport/transport";
import { proposeTransportRules, settleTransportRules } from "@/lib/data/transport/transport-rule-versions";
import { confirmTransportRules, readRulesInForce } from "@/lib/data/transport/transport-rules";
import type { MoveRequest } from "@/lib/returns/return-moves";
import { toldDangerSchema } from "@/lib/safety/told-danger.schema";
import { ruleFields } from "@/lib/transport/rule-fields";
import { BLANK_TRACKS } from "@/lib/transport/rule-proposal";
import { writeSourced } from "@/lib/transport/rule-text";
import { takeAndDecide } from "@/tests/support/decide-return";
import { declareForSending, packBox } from "@/tests/support/pack-for-sending";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";
import { expectWrittenOnce } from "@/tests/support/written-once";
import { declaration } from "@/tests/unit/transport/declared";

withTestDatabase();

const now = new Date("2026-10-05T09:00:00Z");
const days = (count: number) => new Date(now.getTime() + count * 86_400_000);
let fleet: SmallFleet;
let nextPack = 0;

beforeAll(async () => {
  fleet = await createSmallFleet({ packs: 20 });
});

async function lodged(changes: Parameters<typeof filledForm>[1] = {}): Promise<string> {
  const answer = await lodgeReturn(fleet.berlin, filledForm(fleet.others[nextPack++] ?? fleet.unsold, changes), now);
  if (!answer.ok) throw new Error(JSON.stringify(answer));
  return answer.reference;
}

/** As far as its approval, as a row: that it is approved as it should be is tried with the moves. */
const allowed = (reference: string) =>
  asSystem((tx) =>
    tx.return.update({
      where: { reference },
      data: { status: "return-approved", version: { increment: 1 } },
      select: { id: true },
    }),
  );

test("without a declared class nothing is printed but the traveller, for dealer and house alike", async () => {
  const reference = await lodged();
  expect((await readTransport(fleet.lead, reference, now))?.proposal).toMatchObject({ transportClass: "damaged" });
  for (const actor of [fleet.berlin, fleet.bench]) {
    for (const sheet of ["label", "packing-sheet", "used-battery-statement"] as const) {
      expect(await readSheet(actor, reference, sheet)).toMatchObject({ kind: "refused" });
    }
  }
  expect(await readSheet(fleet.bench, reference, "traveller")).toMatchObject({ kind: "printable" });
});

test("a lead declares, the dealer prints its own label, and no other dealer sees any of it", async () => {
  const reference = await lodged();
  expect(await declareTransportClass(fleet.lead, reference, declaration("damaged"))).toEqual({ ok: true });
  // A class alone is no permission.
  expect(await readSheet(fleet.berlin, reference, "label")).toMatchObject({ kind: "refused" });
  await allowed(reference);
  expect(await readSheet(fleet.berlin, reference, "label")).toMatchObject({
    kind: "printable",
    transport: { orders: { kind: "pack", packing: { instruction: "P908" } }, declaration: { declaredByName: "Lenka" } },
  });
  // Sold in Germany within the guarantee, and nothing decided: the statement of a repair under guarantee may be printed.
  const statement = await readSheet(fleet.berlin, reference, "used-battery-statement");
  await asSystem((tx) =>
    tx.return.update({ where: { reference }, data: { coverOutcome: "outside-makers-guarantee" } }),
  );
  const outside = await readSheet(fleet.berlin, reference, "used-battery-statement");
  expect([statement?.kind, outside?.kind]).toEqual(["printable", "refused"]);
  expect(await recordPrint(fleet.berlin, reference, "label")).toEqual({ ok: true });
  expect((await readTransport(fleet.bench, reference))?.declaration?.prints).toMatchObject([
    { kind: "label", printedByName: "Berta" },
  ]);
  expect(await readSheet(fleet.sydney, reference, "label")).toBeNull();
  expect(await readTransport(fleet.finance, reference)).toBeNull();
  const seen = await asActor(fleet.sydney, async (tx) => [
    await tx.classDeclaration.count(),
    await tx.sendingLeave.count(),
    await tx.printedSheet.count(),
  ]);
  expect(seen).toEqual([0, 0, 0]);
});

test("neither a dealer nor a technician declares, in the program or past it", async () => {
  const reference = await lodged();
  expect(await declareTransportClass(fleet.bench, reference, declaration("damaged"))).toMatchObject({
    reason: "not-allowed",
  });
  expect(await declareTransportClass(fleet.berlin, reference, declaration("damaged"))).toMatchObject({ ok: false });
  const { id } = await asSystem((tx) => tx.return.findUniqueOrThrow({ where: { reference }, select: { id: true } }));
  const row = {
    returnId: id,
    sequence: 1,
    transportClass: "damaged",
    proposedClass: "damaged",
    proposedSafety: "U",
    proposedReasons: [],
    notDiagnosed: [],
    criteria: {},
    inEquipment: false,
    reason: "Past the program.",
    ruleVersion: "x",
    ruleFingerprint: "x",
    declaredByUserId: "x",
    declaredByName: "x",
    declaredByRole: "x",
    declaredAt: now,
  };
  for (const actor of [fleet.berlin, fleet.bench]) {
    await expect(asActor(actor, (tx) => tx.classDeclaration.create({ data: row }))).rejects.toThrow(
      /row-level security/,
    );
  }
  // The database itself refuses to call an undiagnosed pack sound, whoever asks.
  await expect(
    asActor(fleet.lead, (tx) =>
      tx.classDeclaration.create({ data: { ...row, transportClass: "not-damaged", notDiagnosed: ["No file."] } }),
    ),
  ).rejects.toThrow(/never_sound_by_default/);
});

test("a technician proposes, nothing is printed by it, and another named person declares beside it or against it", async () => {
  const reference = await lodged();
  await allowed(reference);
  const proposed = declaration("damaged", "not-examined", { reason: "Nobody looked inside; the case is whole." });
  expect(await proposeTransportClass(fleet.berlin, reference, proposed, now)).toMatchObject({ ok: false });
  expect(await proposeTransportClass(fleet.finance, reference, proposed, now)).toMatchObject({ ok: false });
  expect(await proposeTransportClass(fleet.bench, reference, declaration("not-damaged"), now)).toMatchObject({
    reason: "rules-not-confirmed",
  });
  expect(await proposeTransportClass(fleet.bench, reference, proposed, now)).toEqual({ ok: true });
  const seen = await readTransport(fleet.lead, reference, now);
  expect(seen).toMatchObject({ declaration: null, sending: { kind: "no-class" } });
  expect(seen?.waiting).toMatchObject({ transportClass: "damaged", proposedByName: "Benno", reason: proposed.reason });
  expect(await readSheet(fleet.berlin, reference, "label")).toMatchObject({ kind: "refused" });
  expect((await readTransport(fleet.berlin, reference, now))?.waiting).toBeNull();
  expect(
    await asSystem((tx) =>
      tx.notice.count({ where: { kind: "class-proposed", reference, audienceRole: "service-lead" } }),
    ),
  ).toBe(1);
  expect(await declareTransportClass(fleet.lead, reference, declaration("damaged"), now)).toEqual({ ok: true });
  const after = await readTransport(fleet.lead, reference, now);
  expect(after).toMatchObject({ waiting: null, declaration: { declaredByName: "Lenka", answersName: "Benno" } });
});

test("whoever proposed a class does not declare it, in a new office or past the program", async () => {
  const reference = await lodged();
  expect(await proposeTransportClass(fleet.bench, reference, declaration("damaged"), now)).toEqual({ ok: true });
  const { userId, name } = fleet.bench;
  const raised = mintActor({ userId, name, role: "service-lead", dealerId: null });
  expect(await declareTransportClass(raised, reference, declaration("damaged"), now)).toMatchObject({
    reason: "own-proposal",
  });
  const { id: returnId } = await asSystem((tx) =>
    tx.return.findUniqueOrThrow({ where: { reference }, select: { id: true } }),
  );
  const { id: answersId } = await asSystem((tx) =>
    tx.proposedClass.findFirstOrThrow({ where: { returnId }, select: { id: true } }),
  );
  const row = {
    returnId,
    answersId,
    sequence: 1,
    transportClass: "damaged",
    proposedClass: "damaged",
    proposedSafety: "U",
    proposedReasons: [],
    notDiagnosed: [],
    criteria: {},
    inEquipment: false,
    reason: "Past the program.",
    ruleVersion: "x",
    ruleFingerprint: "x",
    declaredByUserId: userId,
    declaredByName: name,
    declaredByRole: "service-lead",
    declaredAt: now,
  };
  await expect(asActor(raised, (tx) => tx.classDeclaration.create({ data: row }))).rejects.toThrow(
    /declared by another person/,
  );
  await expectWrittenOnce(
    () => asSystem((tx) => tx.proposedClass.findMany({ where: { returnId } })),
    () =>
      asSystem((tx) => tx.proposedClass.updateMany({ where: { returnId }, data: { transportClass: "not-damaged" } })),
  );
});

test("the rules are confirmed once, by the safety officer, and only as they stand", async () => {
  const confirmation = {
    adviserName: "Ondine Salter",
    adviserQualification: "Certificate 4711, until 2029-01-31",
    statement: "Compared with ADR 2025, filed under T-12.",
  };
  const ruleFingerprint = (await readRulesInForce(fleet.lead)).fingerprint;
  expect(await confirmTransportRules(fleet.lead, ruleFingerprint, confirmation)).toMatchObject({ ok: false });
  expect(await confirmTransportRules(fleet.safetyOfficer, "0".repeat(64), confirmation)).toMatchObject({ ok: false });
  expect(await confirmTransportRules(fleet.safetyOfficer, ruleFingerprint, confirmation)).toEqual({ ok: true });
  expect(await confirmTransportRules(fleet.safetyOfficer, ruleFingerprint, confirmation)).toMatchObject({ ok: false });
});

test("a pack without readings stays damaged or graver even under confirmed rules", async () => {
  const reference = await lodged();
  expect(await declareTransportClass(fleet.lead, reference, declaration("not-damaged"))).toMatchObject({
    reason: "not-diagnosed",
  });
});

test("what becomes known after the class was declared counts on the way to us: a pack that fell while it was packed is no sound one", async () => {
  const reference = await lodged();
  await giveSoundReadings(reference);
  expect(await declareTransportClass(fleet.lead, reference, declaration("not-damaged", "no-sign"), now)).toEqual({
    ok: true,
  });
  await allowed(reference);
  await packBox(fleet, reference, now);
  const hand = () => makeMove(fleet.berlin, reference, { name: "hand-to-carrier", reason: "", seenVersion: 2 }, now);
  const fell = toldDangerSchema.parse({ about: reference, note: "It fell off the table while it was packed." });
  expect(await tellDanger(fleet.berlin, fell, now)).toMatchObject({ ok: true });
  expect(await hand()).toMatchObject({ reason: "safety-open" });
  await judgeAs("caution", reference);
  expect((await readTransport(fleet.berlin, reference, now))?.sending.kind).toBe("evidence-changed");
  expect(await readSheet(fleet.berlin, reference, "label", "to-maker", now)).toMatchObject({ kind: "refused" });
  expect(await hand()).toMatchObject({ reason: "evidence-changed" });
  // It goes on with a class of its own.
  const anew = declaration("damaged", "not-examined", { seenDeclarations: 1 });
  expect(await declareTransportClass(fleet.lead, reference, anew, now)).toEqual({ ok: true });
  await packBox(fleet, reference, now);
  expect(await hand()).toMatchObject({ ok: true });
});

test("a danger told at another dealer's counter holds the box of a dealer who may not read of it", async () => {
  const reference = await lodged();
  await declareTransportClass(fleet.lead, reference, declaration("damaged"), now);
  await allowed(reference);
  await packBox(fleet, reference, now);
  await tellElsewhereAndLower(reference);
  const hand = { name: "hand-to-carrier", reason: "", seenVersion: 2 } as const;
  expect(await makeMove(fleet.berlin, reference, hand, now)).toMatchObject({ reason: "safety-open" });
  // Closed, the smoke stays a sign: the class is asked for anew before the box leaves.
  await closeIncidents(reference);
  expect((await readTransport(fleet.lead, reference, now))?.proposal.reasons.join(" ")).toContain("smoke or vapour");
});

test("nor is such a pack said to be well, forgotten, joined or handed over while that incident is open", async () => {
  const by = (actor: Actor, request: MoveRequest) => makeMove(actor, reference, request, now);
  let reference = await lodged();
  await tellElsewhereAndLower(reference);
  const merge = { name: "merge", reason: "Lodged twice.", seenVersion: 1, stated: { duplicateOf: reference } } as const;
  expect(await by(fleet.bench, merge)).toMatchObject({ reason: "safety-open" });
  const withdraw = { name: "withdraw", reason: "It runs again.", seenVersion: 1 } as const;
  expect(await by(fleet.berlin, withdraw)).toMatchObject({ reason: "safety-open" });
  await closeIncidents(reference);
  expect(await by(fleet.berlin, withdraw)).toMatchObject({ ok: true });

  reference = await lodged();
  await by(fleet.bench, { name: "take", reason: "", seenVersion: 1 });
  const help = { name: "help", reason: "Charge it once.", seenVersion: 2, stated: { logWasAskedFor: true } } as const;
  expect(await by(fleet.bench, help)).toMatchObject({ ok: true });
  await tellElsewhereAndLower(reference);
  const well = { name: "confirm-help", reason: "It charges again.", seenVersion: 3 } as const;
  expect(await by(fleet.berlin, well)).toMatchObject({ reason: "safety-open" });
  await closeIncidents(reference);
  expect(await by(fleet.berlin, well)).toMatchObject({ ok: true });

  reference = await lodged();
  const asIs = { remedy: "return-as-is", confirmedFault: "unknown", reason: "Nothing found." } as const;
  await takeAndDecide(fleet, reference, asIs, now);
  const { version } = await asSystem((tx) => tx.return.findUniqueOrThrow({ where: { reference } }));
  const ready = { name: "ready-without-work", reason: "", seenVersion: version, stated: { packIsSafe: true } } as const;
  expect(await by(fleet.bench, ready)).toMatchObject({ ok: true });
  await tellElsewhereAndLower(reference);
  const stated = { outgoingSerial: await serialOf(reference) };
  const back = { name: "hand-back", reason: "", seenVersion: version + 1, stated } as const;
  expect(await by(fleet.berlin, back)).toMatchObject({ reason: "safety-open" });
  await closeIncidents(reference);
  expect(await by(fleet.berlin, back)).toMatchObject({ ok: true });
});

async function serialOf(reference: string): Promise<string> {
  const { pack } = await asSystem((tx) =>
    tx.return.findUniqueOrThrow({ where: { reference }, select: { pack: { select: { serial: true } } } }),
  );
  return pack.serial;
}

/** Smoke at another dealer's; then the flag is lowered although the incident is open still, which only the house and that dealer see. */
async function tellElsewhereAndLower(reference: string): Promise<void> {
  const told = toldDangerSchema.parse({
    about: await serialOf(reference),
    flags: ["smoke"],
    note: "Smoke came out of it at our fair.",
  });
  expect(await tellDanger(fleet.sydney, told, now)).toMatchObject({ ok: true });
  const lower = { to: "normal", reason: "Looked at; nothing warm.", seenVersion: 1 } as const;
  expect(await flagSafety(fleet.safetyOfficer, reference, lower, now)).toMatchObject({ ok: true });
}

/** The incident closed as a row and the flag lowered by the safety officer: how an incident is closed is tried in tests/integration/safety. */
async function judgeAs(to: "caution" | "normal", reference: string): Promise<void> {
  await closeIncidents(reference);
  const { safety } = await asSystem(async (tx) => {
    const { packId } = await tx.return.findUniqueOrThrow({ where: { reference }, select: { packId: true } });
    return readPackTracks(tx, packId);
  });
  const lower = { to, reason: "Looked at from all sides.", seenVersion: safety.version };
  expect(await flagSafety(fleet.safetyOfficer, reference, lower, now)).toMatchObject({ ok: true });
}

function closeIncidents(reference: string) {
  return asSystem(async (tx) => {
    const open = { closing: null, pack: { returns: { some: { reference } } } };
    const incidents = await tx.incident.findMany({ where: open, select: { id: true } });
    const by = { closedAt: now, closedByUserId: "x", closedByName: "x" };
    await tx.incidentClosing.createMany({ data: incidents.map(({ id: incidentId }) => ({ incidentId, ...by })) });
  });
}

/** Readings in which nothing was found, as rows: that a file is judged so is tried in tests/unit/diagnosis. */
function giveSoundReadings(reference: string) {
  return asSystem(async (tx) => {
    const row = await tx.return.findUniqueOrThrow({
      where: { reference },
      select: { id: true, dealerId: true, pack: { select: { serial: true } } },
    });
    const { id } = await tx.readingFile.create({
      data: {
        dealerId: row.dealerId,
        serial: row.pack.serial,
        fileName: "log.csv",
        sha256: "0".repeat(64),
        sizeBytes: 1n,
        uploadedByUserId: "x",
        parserVersion: "1",
        rows: 1,
        groups: 16,
        coverage: 0.97,
        timeRepairs: 0,
        currentSign: "charge-positive",
        spanSeconds: 1,
        rejectedRows: 0,
        rejected: [],
        remarks: [],
        traces: {},
        findings: {
          create: {
            rank: 1,
            fault: "no-fault-found",
            groups: [],
            confidence: 0.9,
            safetyClass: "C",
            evidenceFor: ["Every group bore the load."],
            evidenceAgainst: [],
            nextTest: "None.",
          },
        },
        suggestion: { create: { remedy: "return-as-is", reasons: ["Nothing was found."], ruleVersion: "1" } },
      },
      select: { id: true },
    });
    await tx.readingFile.update({ where: { id }, data: { returnId: row.id }, select: { id: true } });
  });
}

test("leave to send runs out and is given anew by service; of two declarations at once one is told", async () => {
  const reference = await lodged();
  const answers = await Promise.all([
    declareTransportClass(fleet.lead, reference, declaration("damaged"), now),
    declareTransportClass(fleet.manager, reference, declaration("damaged"), now),
  ]);
  expect(answers.filter(({ ok }) => ok)).toHaveLength(1);
  await allowed(reference);
  expect((await readTransport(fleet.berlin, reference, days(13)))?.sending.kind).toBe("may-send");
  expect((await readTransport(fleet.berlin, reference, days(15)))?.sending.kind).toBe("expired");
  expect(await reviveSendingLeave(fleet.berlin, reference, days(15))).toMatchObject({ ok: false });
  expect(await reviveSendingLeave(fleet.bench, reference, days(15))).toEqual({ ok: true });
  expect((await readTransport(fleet.berlin, reference, days(16)))?.sending.kind).toBe("may-send");
});

test("an approval gives leave from its own day on, however long ago the class was declared, and the dealer reads that day", async () => {
  const reference = await lodged();
  expect(await declareTransportClass(fleet.lead, reference, declaration("damaged"), now)).toEqual({ ok: true });
  await makeMove(fleet.bench, reference, { name: "take", reason: "", seenVersion: 1 }, days(1));
  const approve = { name: "approve-return", reason: "To be looked at.", seenVersion: 2 } as const;
  expect(await makeMove(fleet.lead, reference, approve, days(20))).toMatchObject({ ok: true });
  expect((await readTransport(fleet.berlin, reference, days(21)))?.sending).toMatchObject({ until: days(34) });
  const letter = () =>
    asSystem((tx) => tx.notice.findFirstOrThrow({ where: { reference, kind: "approved" }, orderBy: { key: "desc" } }));
  expect(JSON.stringify(await letter())).toContain("2026-11-08");
  // Lapsed and allowed anew: the same again, and the program does not end it in its next round.
  expect(
    await makeDueMoveAsSystem(reference, () => ({ name: "lapse-approval", reason: "Over." }), days(40)),
  ).toMatchObject({
    ok: true,
  });
  const renew = { name: "renew-approval", reason: "It comes now.", seenVersion: 4 } as const;
  expect(await makeMove(fleet.lead, reference, renew, days(41))).toMatchObject({ ok: true });
  expect(JSON.stringify(await letter())).toContain("2026-11-29");
  expect((await readTransport(fleet.berlin, reference, days(54)))?.sending.kind).toBe("may-send");
});

test("a pack with an open incident can only be classed as not to be shipped, and its label is refused", async () => {
  const reference = await lodged({ dangerSigns: ["swollen"] });
  expect(await declareTransportClass(fleet.lead, reference, declaration("damaged"))).toMatchObject({
    reason: "frozen",
  });
  expect(await declareTransportClass(fleet.lead, reference, declaration("do-not-ship", "not-examined"))).toEqual({
    ok: true,
  });
  expect(await readSheet(fleet.berlin, reference, "label")).toMatchObject({ kind: "refused" });
  expect(await reviveSendingLeave(fleet.lead, reference)).toMatchObject({ ok: false });
});

test("a declaration is never changed or removed", async () => {
  const read = () => asSystem((tx) => tx.classDeclaration.findMany({ orderBy: { id: "asc" } }));
  await expectWrittenOnce(read, () => asSystem((tx) => tx.classDeclaration.deleteMany()));
  await expectWrittenOnce(read, () =>
    asSystem((tx) => tx.classDeclaration.updateMany({ data: { reason: "Another reason." } })),
  );
});

test("rules are changed by two people; a class declared before keeps its rules and is declared anew before anything is printed", async () => {
  const reference = await lodged();
  await declareTransportClass(fleet.lead, reference, declaration("damaged"), now);
  await allowed(reference);
  const before = (await readRulesInForce(fleet.lead, now)).rules;
  const typed = {
    ...Object.fromEntries(ruleFields(before, BLANK_TRACKS).map(({ name, text }) => [name, text])),
    version: "2026-2",
    validFrom: "2026-10-06",
    why: "The carrier wants a tenth point.",
    checklist: `${before.checklist.map(writeSourced).join("\n")}\nThe carrier was rung up. [rule of this house]`,
  };
  for (const actor of [fleet.bench, fleet.finance, fleet.berlin])
    expect(await proposeTransportRules(actor, typed, now)).toMatchObject({ reason: "not-allowed" });
  expect(await proposeTransportRules(fleet.manager, { ...typed, air: "" }, now)).toMatchObject({
    problems: [{ field: "air" }],
  });
  expect(await proposeTransportRules(fleet.manager, { ...typed, validFrom: "2026-10-04" }, now)).toMatchObject({
    reason: "day-past",
  });
  expect(await proposeTransportRules(fleet.safetyOfficer, typed, now)).toEqual({ ok: true });
  expect(await proposeTransportRules(fleet.manager, typed, now)).toMatchObject({ reason: "version-taken" });
  expect(await settleTransportRules(fleet.safetyOfficer, "2026-2", "approved", now)).toMatchObject({
    reason: "same-person",
  });
  expect(await settleTransportRules(fleet.lead, "2026-2", "approved", now)).toMatchObject({ reason: "not-allowed" });
  const both = await Promise.all([1, 2].map(() => settleTransportRules(fleet.manager, "2026-2", "approved", now)));
  expect(both.filter(({ ok }) => ok)).toHaveLength(1);
  await expect(
    asSystem((tx) => tx.transportRuleVersion.updateMany({ where: { version: "2026-2" }, data: { why: "x" } })),
  ).rejects.toThrow(/never edited/);

  // Until its day nothing changes; from its day on the old class keeps its old checklist, and prints nothing more.
  expect((await readTransport(fleet.lead, reference, now))?.sending).toMatchObject({ kind: "may-send" });
  const after = await readTransport(fleet.lead, reference, days(1));
  expect(after?.sending).toMatchObject({ kind: "rules-changed" });
  expect(after?.rules.version).toBe("2026-2");
  expect(after?.orders?.kind === "pack" ? after.orders.checklist : []).toHaveLength(before.checklist.length);
  expect((await readTransport(fleet.berlin, reference, days(1)))?.declaration?.ruleVersion).toBe("2026-1");
  await declareTransportClass(
    fleet.lead,
    reference,
    declaration("damaged", "no-sign", { seenDeclarations: 1 }),
    days(1),
  );
  const anew = await readTransport(fleet.lead, reference, days(1));
  expect(anew?.orders?.kind === "pack" ? anew.orders.checklist : []).toHaveLength(before.checklist.length + 1);
});

test("a pack is handed to the carrier once every point is ticked by name and the box is photographed open and closed", async () => {
  const reference = await lodged();
  const at = new Date();
  await makeMove(fleet.bench, reference, { name: "take", reason: "", seenVersion: 1 }, at);
  await declareTransportClass(fleet.lead, reference, declaration("damaged"), at);
  await makeMove(fleet.bench, reference, { name: "approve-return", reason: "To the bench.", seenVersion: 2 }, at);
  const hand = () =>
    makeMove(fleet.berlin, reference, { name: "hand-to-carrier", reason: "", seenVersion: 3 }, new Date());
  expect(await hand()).toMatchObject({ reason: "label-missing" });
  await recordPrint(fleet.berlin, reference, "label", at);
  expect(await hand()).toMatchObject({ reason: "not-packed" });

  const orders = (await readTransport(fleet.berlin, reference, at))?.orders;
  const points = orders?.kind === "pack" ? orders.checklist.map((_point, index) => index) : [];
  const tick = (ticked: readonly number[], actor = fleet.berlin, seenDeclarations = 1) =>
    recordPackingCheck(actor, reference, { ticked, seenDeclarations }, at);
  expect(points.length).toBeGreaterThan(5);
  expect(await tick(points.slice(1))).toMatchObject({ ok: false, sentence: expect.stringMatching(/^Point 1 is not/) });
  expect(await tick(points, fleet.bench)).toMatchObject({ ok: false });
  expect(await tick(points, fleet.sydney)).toMatchObject({ ok: false });
  expect(await tick(points, fleet.berlin, 0)).toMatchObject({ ok: false });
  expect(await tick(points)).toEqual({ ok: true });
  expect(await tick(points)).toMatchObject({ ok: false });
  expect(await hand()).toMatchObject({ reason: "not-packed" });

  const jpeg = await sharp({ create: { width: 900, height: 700, channels: 3, background: "#456" } })
    .jpeg()
    .toBuffer();
  expect(await keepPackPhoto(fleet.berlin, reference, "label", jpeg)).toMatchObject({ ok: false });
  expect(await keepPackPhoto(fleet.sydney, reference, "packed-open", jpeg)).toMatchObject({ ok: false });
  for (const view of ["packed-open", "packed-closed"]) {
    expect(await hand(), view).toMatchObject({ reason: "not-packed" });
    expect(await keepPackPhoto(fleet.berlin, reference, view, jpeg), view).toMatchObject({ ok: true });
  }
  const packing = await readPackingOf(fleet.berlin, reference);
  expect(packing?.check).toMatchObject({ checkedByName: "Berta" });
  expect(await openPackPhoto(fleet.sydney, packing?.photos[0]?.id ?? "")).toBeNull();
  expect(await openPackPhoto(fleet.berlin, packing?.photos[0]?.id ?? "")).not.toBeNull();
  expect(await hand()).toMatchObject({ ok: true });

  // What has not come in at goods-in was not received, whoever says so.
  const { serial } = await asSystem((tx) =>
    tx.pack.findFirstOrThrow({ where: { returns: { some: { reference } } }, select: { serial: true } }),
  );
  const receive = { name: "receive", reason: "", seenVersion: 4, stated: { scannedSerial: serial } } as const;
  expect(await makeMove(fleet.bench, reference, receive)).toMatchObject({ reason: "arrival-missing" });
});

test("a class declared anew is packed anew", async () => {
  const reference = await lodged();
  await declareForSending(fleet.lead, reference, now);
  await allowed(reference);
  await packBox(fleet, reference, now);
  expect((await readPackingOf(fleet.lead, reference))?.missingViews).toEqual([]);
  await declareTransportClass(
    fleet.lead,
    reference,
    declaration("damaged", "no-sign", { seenDeclarations: 1 }),
    days(1),
  );
  expect(await readPackingOf(fleet.lead, reference)).toMatchObject({
    check: null,
    missingViews: ["packed-open", "packed-closed"],
  });
});
