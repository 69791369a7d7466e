import { beforeAll, expect, test } from "vitest";
import { mintActor } from "@/lib/access/actor";
import { nameDeputy } from "@/lib/data/accounts/keep-accounts";
import { verifyEveryChain } from "@/lib/data/chains/verify-chains";
import { asActor, asSystem } from "@/lib/data/database";
import { recordArrival, recordWatch } from "@/lib/data/receiving/receiving";
import { restartWatch } from "@/lib/data/receiving/restart-watch";
import { readBenchReturn } from "@/lib/data/returns/bench-returns";
import { readTrackChangesSince } from "@/lib/data/returns/changes-since";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { flagSafety } from "@/lib/data/returns/move-track";
import { listReturnQueue } from "@/lib/data/returns/return-queue";
import { addHoliday, readHolidays } from "@/lib/data/safety/clock-holidays";
import { listHolidayCalendars, proposeHolidays, settleHolidays } from "@/lib/data/safety/holiday-calendars";
import { callSafetyOfficerAsSystem, listUnansweredIncidents } from "@/lib/data/safety/incident-calls";
import { listIncidents, openIncidentsOfReturn, readIncident } from "@/lib/data/safety/incidents";
import {
  acknowledgeIncident,
  closeIncident,
  decideOnClock,
  recordDetermination,
  tickLine,
} from "@/lib/data/safety/keep-incident";
import { nameIncidentPack } from "@/lib/data/safety/name-incident-pack";
import { readFreeze } from "@/lib/data/safety/pack-freeze";
import { addKnowledge, raiseIncident } from "@/lib/data/safety/raise-incident";
import { tellDanger } from "@/lib/data/safety/tell-danger";
import { arrivalSchema, type HandSign } from "@/lib/receiving/arrival.schema";
import { reportingClocks } from "@/lib/safety/reporting-clocks";
import { toldDangerSchema } from "@/lib/safety/told-danger.schema";
import { calendarDate, plusDays } from "@/lib/warranty/calendar";
import { holidayProposalSchema } from "@/lib/warranty/holiday-calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { countRows, withTestDatabase } from "@/tests/support/test-database";
import { expectWrittenOnce } from "@/tests/support/written-once";

withTestDatabase();

// A Thursday in Berlin and in Sydney.
const now = new Date("2026-10-08T09:00:00Z");
let fleet: SmallFleet;
let reference = "";
let returnReference = "";

beforeAll(async () => {
  fleet = await createSmallFleet({ packs: 22 });
  const answer = await lodgeReturn(
    fleet.berlin,
    filledForm(fleet.soldInBerlin, { dangerSigns: ["swollen", "someone-hurt"] }),
    now,
  );
  if (!answer.ok) throw new Error(JSON.stringify(answer));
  returnReference = answer.reference;
  reference = (await openIncidentsOfReturn(fleet.berlin, returnReference))[0] ?? "";
});

const toldOf = (reference: string) =>
  asSystem((tx) =>
    tx.notice.findMany({
      where: { reference, kind: { in: ["safety", "danger-raised"] } },
      select: { kind: true, dealerId: true, audienceRole: true },
      orderBy: { key: "asc" },
    }),
  );

const callsOf = (incident: string) =>
  asSystem((tx) =>
    tx.notice.findMany({ where: { reference: incident, kind: "incident-call" }, select: { key: true } }),
  );

const toldInTheHouse = [
  { kind: "danger-raised", dealerId: null, audienceRole: "safety-officer" },
  { kind: "danger-raised", dealerId: null, audienceRole: "service-lead" },
];

const known = (change: object = {}) => ({
  how: "telephone" as const,
  knownAt: new Date("2026-10-06T07:00:00Z"),
  note: "The customer rang the workshop on Tuesday.",
  flags: [],
  country: "",
  ...change,
});

test("a danger sign that reporting laws ask about opens an incident with the return, others do not", async () => {
  expect(reference).toMatch(/^S-26-0001-[0-9A-Z]$/);
  const answer = await lodgeReturn(fleet.berlin, filledForm(fleet.unsold, { dangerSigns: ["impact-or-water"] }), now);
  if (!answer.ok) throw new Error(JSON.stringify(answer));
  expect(await openIncidentsOfReturn(fleet.berlin, answer.reference)).toEqual([]);
  expect(await countRows("return")).toBe(2);
  expect(await toldOf(answer.reference)).toEqual(toldInTheHouse);
});

test("lodging with a danger tells the safety officer and the service desk in the same transaction", async () => {
  expect(await toldOf(returnReference)).toEqual(expect.arrayContaining(toldInTheHouse));
});

test("the dealer hears with every incident that a duty of its own may run", async () => {
  expect(await toldOf(returnReference)).toContainEqual({
    kind: "safety",
    dealerId: fleet.berlin.dealerId,
    audienceRole: null,
  });
});

test("the dealer sees that an incident is open, and nothing of what is written in it; another dealer sees nothing", async () => {
  const own = await asActor(fleet.berlin, async (tx) => [await tx.incident.count(), await tx.incidentEntry.count()]);
  expect(own).toEqual([1, 0]);
  const other = await asActor(fleet.sydney, async (tx) => [await tx.incident.count(), await tx.incidentEntry.count()]);
  expect(other).toEqual([0, 0]);
  expect(await readIncident(fleet.berlin, reference)).toBeNull();
  expect(await readIncident(fleet.bench, reference)).toBeNull();
  expect(await listIncidents(fleet.finance)).toBeNull();
});

test("an earlier note moves first knowledge earlier, whoever tells it, and a later one never later", async () => {
  expect((await readIncident(fleet.safetyOfficer, reference, now))?.state.firstKnown.at).toEqual(now);
  expect(await addKnowledge(fleet.berlin, reference, known(), now)).toMatchObject({ ok: true });
  expect(await addKnowledge(fleet.bench, reference, known({ knownAt: now, flags: ["leak"] }), now)).toMatchObject({
    ok: true,
  });
  const incident = await readIncident(fleet.safetyOfficer, reference, now);
  expect(incident?.state.firstKnown).toEqual({ kind: "telephone", at: new Date("2026-10-06T07:00:00Z") });
  expect(incident?.state.flags).toEqual(["burn-shock-or-injury", "swelling", "leak"]);
  expect(await addKnowledge(fleet.bench, reference, known({ knownAt: new Date("2027-01-01") }), now)).toMatchObject({
    ok: false,
  });
  expect(await addKnowledge(fleet.sydney, reference, known(), now)).toMatchObject({ ok: false });
});

test("the clocks of the country and those that run for events overseas are there, from first knowledge", async () => {
  const incident = await readIncident(fleet.lead, reference, now);
  expect(incident?.clocks.map(({ clock }) => clock.id).sort()).toEqual([
    "au-injury",
    "ca-incident",
    "ca-written-report",
    "eu-accident",
    "eu-dangerous-product",
  ]);
  expect(
    incident?.clocks.every(({ mayRunSince }) => mayRunSince?.getTime() === Date.parse("2026-10-06T07:00:00Z")),
  ).toBe(true);
});

test("a holiday of the setting moves the end of its clock", async () => {
  const endOf = async () =>
    (await readIncident(fleet.lead, reference, now))?.clocks.find(({ clock }) => clock.id === "au-injury")?.endsAt;
  // Known on Tuesday 6 October, 18:00 in Sydney: due by the end of Thursday the 8th (UTC+11 there).
  expect((await endOf())?.toISOString()).toBe("2026-10-08T13:00:00.000Z");
  const holiday = { clockId: "au-injury", day: calendarDate("2026-10-08"), name: "A holiday for this test" };
  expect(await addHoliday(fleet.lead, holiday)).toEqual({ ok: false });
  expect(await addHoliday(fleet.safetyOfficer, holiday)).toEqual({ ok: true });
  expect((await endOf())?.toISOString()).toBe("2026-10-09T13:00:00.000Z");
});

test("an incident holds its pack until the safety officer closes it with every clock decided", async () => {
  const { packId } = await asSystem((tx) =>
    tx.incident.findUniqueOrThrow({ where: { reference }, select: { packId: true } }),
  );
  expect(await asSystem((tx) => readFreeze(tx, packId ?? ""))).toMatchObject({ noShip: true, noErase: true });
  const seenEntries = (await readIncident(fleet.lead, reference, now))?.entries.at(-1)?.sequence ?? 0;
  const decision = {
    seenEntries,
    decision: "not-reported" as const,
    until: undefined,
    reason: "Counsel's letter of 9 October goes through every element.",
    lawyerReference: "Ondine Salter, letter of 9 October 2026",
  };
  expect(await decideOnClock(fleet.lead, reference, { ...decision, clockId: "eu-accident" })).toMatchObject({
    ok: false,
  });
  expect(
    await closeIncident(fleet.safetyOfficer, reference, "Everything was looked into and decided.", now),
  ).toMatchObject({
    ok: false,
    sentence: expect.stringContaining("no final decision"),
  });
  for (const clockId of ["eu-accident", "eu-dangerous-product", "au-injury", "ca-incident", "ca-written-report"]) {
    expect(await decideOnClock(fleet.safetyOfficer, reference, { ...decision, clockId }, now)).toMatchObject({
      ok: true,
    });
  }
  expect(await acknowledgeIncident(fleet.safetyOfficer, reference, seenEntries, now)).toMatchObject({ ok: true });
  expect(await listUnansweredIncidents(fleet.safetyOfficer, now)).not.toContain(reference);
  expect(await addKnowledge(fleet.bench, reference, known({ note: "A child was burned." }), now)).toMatchObject({
    ok: true,
  });
  expect(await listUnansweredIncidents(fleet.safetyOfficer)).toContain(reference);
  expect(await callsOf(reference)).toHaveLength(3);
  const withoutHearing = await closeIncident(fleet.safetyOfficer, reference, "Everything was decided before.", now);
  expect(withoutHearing).toMatchObject({ ok: false, sentence: expect.stringContaining("More became known after") });
  const blind = await decideOnClock(fleet.safetyOfficer, reference, { ...decision, clockId: "eu-accident" }, now);
  expect(blind).toMatchObject({ ok: false, sentence: expect.stringContaining("more became known meanwhile") });
  const all = (await readIncident(fleet.lead, reference, now))?.entries.at(-1)?.sequence ?? 0;
  for (const clockId of ["eu-accident", "eu-dangerous-product", "au-injury", "ca-incident", "ca-written-report"]) {
    const anew = { ...decision, clockId, seenEntries: all };
    expect(await decideOnClock(fleet.safetyOfficer, reference, anew, now)).toMatchObject({ ok: true });
  }
  expect(await tickLine(fleet.safetyOfficer, reference, "people", now)).toMatchObject({ ok: true });
  expect(await closeIncident(fleet.manager, reference, "Everything was looked into and decided.", now)).toMatchObject({
    ok: false,
  });
  expect(
    await closeIncident(fleet.safetyOfficer, reference, "Everything was looked into and decided.", now),
  ).toMatchObject({ ok: true });
  expect(await asSystem((tx) => readFreeze(tx, packId ?? ""))).toMatchObject({
    noShip: false,
    noErase: true,
    because: [],
  });
  expect(await tickLine(fleet.safetyOfficer, reference, "dealer", now)).toMatchObject({ ok: false });
  expect(await addKnowledge(fleet.bench, reference, known({ flags: ["fire"] }), now)).toEqual({
    ok: false,
    sentence: "This incident is closed. Open a new one for what is new.",
  });
  expect(await openIncidentsOfReturn(fleet.berlin, returnReference)).toEqual([]);
});

test("a person on the bench raises an incident on a return, and its determination starts a clock of vehicles", async () => {
  const raised = await raiseIncident(fleet.bench, returnReference, known({ flags: ["fire"], country: "US" }), now);
  if (!raised.ok) throw new Error(raised.sentence);
  const clock = async () =>
    (await readIncident(fleet.lead, raised.reference, now))?.clocks.find(
      ({ clock }) => clock.id === "us-vehicle-defect",
    );
  expect((await clock())?.state).toBe("waits-for-determination");
  expect(await recordDetermination(fleet.bench, raised.reference, "It is.", now)).toMatchObject({ ok: false });
  expect(await recordDetermination(fleet.safetyOfficer, raised.reference, "Board of 8 October.", now)).toMatchObject({
    ok: true,
  });
  expect((await clock())?.state).toBe("time-left");
});

test("an incident raised by hand sets its pack apart, leads the queue and reaches the safety officer at once", async () => {
  const lodged = await lodgeReturn(fleet.berlin, filledForm(fleet.others[6] ?? fleet.unsold), now);
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  expect(await raiseIncident(fleet.bench, lodged.reference, known({ flags: ["fire"] }), now)).toMatchObject({
    ok: true,
  });
  // Beside it only the return on which the test before raised an incident too.
  const head = (await listReturnQueue(fleet.lead, "open", 1, now))?.rows.slice(0, 2);
  expect(head).toContainEqual(expect.objectContaining({ reference: lodged.reference, flag: "do-not-move" }));
  expect(await toldOf(lodged.reference)).toEqual(expect.arrayContaining(toldInTheHouse));
});

test("an incident in a country without a clock is closed once a named person kept what counsel said of it", async () => {
  const raised = await raiseIncident(fleet.bench, returnReference, known({ flags: ["leak"], country: "IN" }), now);
  if (!raised.ok) throw new Error(raised.sentence);
  const { reference: of } = raised;
  const decide = async (clockId: string) =>
    decideOnClock(
      fleet.safetyOfficer,
      of,
      {
        clockId,
        seenEntries: (await readIncident(fleet.lead, of, now))?.entries.at(-1)?.sequence ?? 0,
        decision: "not-reported",
        until: undefined,
        reason: "Counsel's letter of 9 October goes through every element.",
        lawyerReference: "Ondine Salter, letter of 9 October 2026",
      },
      now,
    );
  const clocks = (await readIncident(fleet.lead, of, now))?.clocks.map(({ clock }) => clock.id) ?? [];
  expect(clocks).toContain("ask-counsel-in");
  for (const clockId of clocks.filter((id) => id !== "ask-counsel-in" && !id.startsWith("us-vehicle")))
    expect(await decide(clockId), clockId).toMatchObject({ ok: true });
  const close = () => closeIncident(fleet.safetyOfficer, of, "Everything was looked into and decided.", now);
  expect(await close()).toMatchObject({ ok: false, sentence: expect.stringContaining("ask counsel") });
  expect(await decide("ask-counsel-in")).toMatchObject({ ok: true });
  expect(await close()).toMatchObject({ ok: true });
});

test("the country in which a pack was sold is concerned, wherever it comes back, also of the pack it replaced", async () => {
  const serial = fleet.others[4] ?? fleet.unsold;
  const sold = await asSystem(async (tx) => {
    const sydney = await tx.dealer.findFirstOrThrow({ where: { country: "AU" }, select: { id: true } });
    const pack = await tx.pack.findUniqueOrThrow({ where: { serial }, select: { id: true } });
    await tx.sale.updateMany({ where: { packId: pack.id }, data: { dealerId: sydney.id } });
    return pack.id;
  });
  const lodged = await lodgeReturn(fleet.berlin, filledForm(serial, { dangerSigns: ["swollen"] }), now);
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  const [incident = ""] = await openIncidentsOfReturn(fleet.lead, lodged.reference);
  expect((await readIncident(fleet.lead, incident, now))?.state.countries).toEqual(["AU", "DE"]);
  const listed = (await listIncidents(fleet.safetyOfficer, now))?.open.find(({ reference: of }) => of === incident);
  expect(listed?.state.countries).toEqual(["AU", "DE"]);
  const after = fleet.others[1] ?? fleet.unsold;
  await asSystem(async (tx) => {
    const next = await tx.pack.findUniqueOrThrow({ where: { serial: after }, select: { id: true } });
    await tx.sale.deleteMany({ where: { packId: next.id } });
    await tx.replacement.createMany({ data: [{ oldPackId: sold, newPackId: next.id, deliveredOn: now }] });
  });
  const again = await lodgeReturn(fleet.berlin, filledForm(after, { dangerSigns: ["swollen"] }), now);
  if (!again.ok) throw new Error(JSON.stringify(again));
  const [second = ""] = await openIncidentsOfReturn(fleet.lead, again.reference);
  expect((await readIncident(fleet.lead, second, now))?.state.countries).toEqual(["AU", "DE"]);
});

test("fire told later to an open incident forbids to move its pack, as fire told first does", async () => {
  const serial = fleet.others[7] ?? fleet.unsold;
  const lodged = await lodgeReturn(fleet.berlin, filledForm(serial, { dangerSigns: ["swollen"] }), now);
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  const flag = async () =>
    (await listReturnQueue(fleet.lead, "open", 1, now))?.rows.find((row) => row.reference === lodged.reference)?.flag;
  expect(await flag()).toBe("isolate");
  const [incident = ""] = await openIncidentsOfReturn(fleet.berlin, lodged.reference);
  await addKnowledge(fleet.bench, incident, known({ note: "The lab found a swollen group." }), now);
  expect(await flag()).toBe("isolate");
  const told = known({ flags: ["fire", "smoke"], note: "It caught fire in the van." });
  expect(await addKnowledge(fleet.bench, incident, told, now)).toMatchObject({ ok: true });
  expect(await flag()).toBe("do-not-move");
});

test("a fact told between the page and the click is not taken for noticed, and the calls go on", async () => {
  const raised = await raiseIncident(fleet.bench, returnReference, known({ flags: ["leak"] }), now);
  if (!raised.ok) throw new Error(raised.sentence);
  const seen = async () => (await readIncident(fleet.safetyOfficer, raised.reference, now))?.entries.at(-1)?.sequence;
  const onThePage = (await seen()) ?? 0;
  await addKnowledge(fleet.bench, raised.reference, known({ note: "It caught fire in the van." }), now);
  expect(await acknowledgeIncident(fleet.safetyOfficer, raised.reference, onThePage, now)).toMatchObject({
    ok: false,
    sentence: expect.stringContaining("more became known meanwhile"),
  });
  expect(await listUnansweredIncidents(fleet.safetyOfficer)).toContain(raised.reference);
  const readAgain = (await seen()) ?? 0;
  expect(await acknowledgeIncident(fleet.safetyOfficer, raised.reference, readAgain, now)).toMatchObject({ ok: true });
  expect(await listUnansweredIncidents(fleet.safetyOfficer, now)).not.toContain(raised.reference);
  // Nobody decided on its clocks: a day later they call anew.
  const nextDay = new Date(now.getTime() + 86_400_000);
  expect(await listUnansweredIncidents(fleet.safetyOfficer, nextDay)).toContain(raised.reference);
});

test("an open incident never gives way to newer ones, and what all have in common counts those not listed", async () => {
  const page = await listIncidents(fleet.safetyOfficer, now, 1);
  const counts = await asSystem(async (tx) => ({
    open: await tx.incident.count({ where: { closing: null } }),
    closed: await tx.incident.count({ where: { closing: { isNot: null } } }),
  }));
  expect(counts.open).toBeGreaterThan(1);
  expect({ open: page?.open.length, closed: page?.closedCount }).toEqual(counts);
  const none = await listIncidents(fleet.safetyOfficer, now, 0);
  expect(none?.open).toHaveLength(counts.open);
  expect(none?.closed).toEqual([]);
  const listed = none?.open.map((one) => one.reference) ?? [];
  const shared = none?.patterns.flatMap(({ references }) => references) ?? [];
  // The first incident of this file is closed by now, and still one of those with the same sign.
  expect(listed).not.toContain(reference);
  expect(shared).toContain(reference);
});

test("what is written in an incident is never changed, removed or decided by others, in the database itself", async () => {
  const entries = () => asSystem((tx) => tx.incidentEntry.findMany({ orderBy: { id: "asc" } }));
  const incidents = () => asSystem((tx) => tx.incident.findMany({ orderBy: { id: "asc" } }));
  await expectWrittenOnce(entries, () => asSystem((tx) => tx.incidentEntry.deleteMany()));
  await expectWrittenOnce(incidents, () => asSystem((tx) => tx.incident.updateMany({ data: { openedAt: now } })));
  const { id } = await asSystem((tx) => tx.incident.findUniqueOrThrow({ where: { reference }, select: { id: true } }));
  const row = { incidentId: id, sequence: 900, kind: "decision", content: {}, at: now, byUserId: "x", byName: "x" };
  for (const actor of [fleet.berlin, fleet.bench, fleet.lead, fleet.manager]) {
    await expect(asActor(actor, (tx) => tx.incidentEntry.createMany({ data: [row] }))).rejects.toThrow(
      /row-level security/,
    );
  }
  await expect(
    asActor(fleet.sydney, (tx) => tx.incidentEntry.createMany({ data: [{ ...row, kind: "knowledge" }] })),
  ).rejects.toThrow(/row-level security/);
});

test("a deputy is named by the administrator among those who read incidents, acknowledges and decides in that office's place", async () => {
  const administrator = mintActor({ userId: "adm", name: "Adm", role: "administrator", dealerId: null });
  const user = (id: string, role: string) =>
    asSystem((tx) => tx.user.create({ data: { id, name: id, email: `${id}@maker.example`, role } }));
  await user("lead-deputy", "service-lead");
  await user("bench-deputy", "technician");
  expect(await nameDeputy(fleet.manager, "lead-deputy", "2099-01-31")).toMatchObject({ reason: "no-deputy" });
  expect(await nameDeputy(administrator, "bench-deputy", "2099-01-31")).toMatchObject({ reason: "no-deputy" });
  expect(await nameDeputy(administrator, "lead-deputy", "2099-01-31")).toEqual({ ok: true });
  const { safetyDeputyUntil } = await asSystem((tx) => tx.user.findUniqueOrThrow({ where: { id: "lead-deputy" } }));
  expect(safetyDeputyUntil?.toISOString()).toBe("2099-01-31T23:59:59.999Z");

  const hurt = filledForm(fleet.others[5] ?? fleet.unsold, { dangerSigns: ["someone-hurt"] });
  const answer = await lodgeReturn(fleet.berlin, hurt, now);
  if (!answer.ok) throw new Error(JSON.stringify(answer));
  const [opened = ""] = await openIncidentsOfReturn(fleet.berlin, answer.reference);
  const deputy = mintActor({
    userId: "lead-deputy",
    name: "Lea",
    role: "service-lead",
    dealerId: null,
    isSafetyDeputy: true,
  });
  expect(await acknowledgeIncident(fleet.lead, opened, 99)).toMatchObject({ ok: false });
  expect(await listUnansweredIncidents(deputy)).toContain(opened);
  expect(await acknowledgeIncident(deputy, opened, 99)).toMatchObject({ ok: true });
  expect((await readIncident(fleet.safetyOfficer, opened))?.state.acknowledged).toMatchObject({ byName: "Lea" });
  const seenEntries = (await readIncident(deputy, opened))?.entries.at(-1)?.sequence ?? 0;
  const decision = {
    clockId: "eu-accident",
    decision: "reported" as const,
    reason: "Reported by telephone.",
    lawyerReference: "Counsel's call.",
    seenEntries,
  };
  expect(await decideOnClock(fleet.lead, opened, decision)).toMatchObject({ ok: false });
  expect(await decideOnClock(deputy, opened, decision)).toMatchObject({ ok: true });
  expect((await readIncident(fleet.safetyOfficer, opened))?.state.decisions.get("eu-accident")).toMatchObject({
    byName: "Lea",
  });
  expect(await closeIncident(deputy, opened, "Because.")).toMatchObject({
    ok: false,
    sentence: expect.stringContaining("no final decision"),
  });
});

test("the holidays of a country are changed by two people, count from their day, and a clock of that country leaves them out", async () => {
  const clock = reportingClocks.clocks.find(({ countries }) => countries.join() === "US")?.id ?? "";
  const daysOf = async () => (await asSystem(readHolidays))[clock] ?? [];
  const year = new Date().getUTCFullYear();
  expect(await daysOf()).toContain(`${year}-12-25`);
  const typed = { version: "US-2", country: "US", validFrom: "2027-01-01", why: "A shorter list for a test." };
  const proposal = holidayProposalSchema.parse({ ...typed, holidays: "07-04: Independence Day [rule of this house]" });
  for (const actor of [fleet.bench, fleet.berlin, fleet.finance])
    expect(await proposeHolidays(actor, proposal, now)).toMatchObject({ reason: "not-allowed" });
  expect(
    await proposeHolidays(fleet.safetyOfficer, { ...proposal, validFrom: calendarDate("2026-01-01") }, now),
  ).toMatchObject({ reason: "day-past" });
  expect(await proposeHolidays(fleet.safetyOfficer, proposal, now)).toEqual({ ok: true });
  expect(await proposeHolidays(fleet.manager, proposal, now)).toMatchObject({ reason: "version-taken" });
  expect(await settleHolidays(fleet.safetyOfficer, "US-2", "approved", now)).toMatchObject({ reason: "same-person" });
  expect(await settleHolidays(fleet.lead, "US-2", "approved", now)).toMatchObject({ reason: "not-allowed" });
  expect(await settleHolidays(fleet.manager, "US-2", "approved", now)).toEqual({ ok: true });
  const days = await daysOf();
  expect(days).toContain("2026-12-25");
  expect(days).toContain("2027-07-04");
  expect(days).not.toContain("2027-12-25");
  expect((await listHolidayCalendars(fleet.lead))?.find(({ version }) => version === "US-2")).toMatchObject({
    proposedByName: fleet.safetyOfficer.name,
    settledByName: fleet.manager.name,
  });
});

test("a dealer's flag is told to the safety officer and the desk, leads the queue and opens an incident with the dealer's words", async () => {
  const lodged = await lodgeReturn(fleet.berlin, filledForm(fleet.others[2] ?? fleet.unsold), now);
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  expect((await listReturnQueue(fleet.lead, "open", 1, now))?.rows[0]?.reference).not.toBe(lodged.reference);
  const flag = { to: "do-not-move", reason: "It began to hiss in the shed.", seenVersion: 0 } as const;
  expect(await flagSafety(fleet.berlin, lodged.reference, flag, now)).toEqual({ ok: true, version: 1 });
  // Beside it only those on which the tests before told of fire.
  const rows = (await listReturnQueue(fleet.lead, "open", 1, now))?.rows ?? [];
  const head = rows.slice(
    0,
    rows.findIndex((row) => row.flag !== "do-not-move"),
  );
  expect(head).toContainEqual(expect.objectContaining({ reference: lodged.reference }));
  const raised = { kind: "danger-raised", dealerId: null };
  expect(await toldOf(lodged.reference)).toEqual([
    { ...raised, audienceRole: "safety-officer" },
    { ...raised, audienceRole: "service-lead" },
    { kind: "safety", dealerId: fleet.berlin.dealerId, audienceRole: null },
  ]);
  const [opened = "", ...more] = await openIncidentsOfReturn(fleet.berlin, lodged.reference);
  expect(more).toEqual([]);
  const incident = await readIncident(fleet.safetyOfficer, opened, now);
  expect(incident?.state.firstKnown).toEqual({ kind: "dealer-entry", at: now });
  expect(incident?.entries[0]?.content).toMatchObject({ note: "It began to hiss in the shed." });
  expect(await listUnansweredIncidents(fleet.safetyOfficer)).toContain(opened);

  const lower = { to: "normal", reason: "It was the kettle beside it.", seenVersion: 1 } as const;
  expect(await flagSafety(fleet.safetyOfficer, lodged.reference, lower, now)).toMatchObject({ ok: true });
  expect((await listReturnQueue(fleet.lead, "open", 1, now))?.rows[0]?.reference).not.toBe(lodged.reference);
  const again = { to: "isolate", reason: "Now it bulges.", seenVersion: 2 } as const;
  expect(await flagSafety(fleet.berlin, lodged.reference, again, now)).toMatchObject({ ok: true });
  expect(await openIncidentsOfReturn(fleet.berlin, lodged.reference)).toEqual([opened]);
  expect((await readIncident(fleet.safetyOfficer, opened, now))?.entries.at(-1)?.content).toMatchObject({
    note: "Now it bulges.",
  });
  expect(await toldOf(lodged.reference)).toHaveLength(5);
  // The page stood open since before the first of these: the flag is as grave already, and what they tell is kept.
  const onOldPage = { to: "isolate", reason: "It smells of solvent since noon.", seenVersion: 0 } as const;
  expect(await flagSafety(fleet.berlin, lodged.reference, onOldPage, now)).toEqual({ ok: true, version: 4 });
  const graver = { ...onOldPage, to: "do-not-move", reason: "Now it smokes.", seenVersion: 2 } as const;
  expect(await flagSafety(fleet.berlin, lodged.reference, graver, now)).toEqual({ ok: true, version: 5 });
  const kept = await readIncident(fleet.safetyOfficer, opened, now);
  const words = kept?.entries.map(({ content }) => ("note" in content ? content.note : null));
  expect(words?.slice(-2)).toEqual([onOldPage.reason, graver.reason]);
  const lowered = { ...lower, seenVersion: 4 };
  expect(await flagSafety(fleet.safetyOfficer, lodged.reference, lowered, now)).toMatchObject({
    reason: "someone-changed-this",
  });
  // What was refused shows both: where it stood on the page, where it stands, and who moved it.
  const changesSince = (version: number) =>
    readTrackChangesSince(fleet.safetyOfficer, lodged.reference, "safety", version);
  expect(await changesSince(4)).toEqual({
    was: "Set apart",
    now: "Do not move",
    changes: [`Do not move, by ${fleet.berlin.name}`],
  });
  expect(await changesSince(5)).toBeNull();
  expect(await readTrackChangesSince(fleet.sydney, lodged.reference, "safety", 4)).toBeNull();
});

test("a leaking pack at goods-in is set apart, told of and held by an incident; what another look adds goes into the same one", async () => {
  const serial = fleet.others[3] ?? fleet.unsold;
  const lodged = await lodgeReturn(fleet.berlin, filledForm(serial), now);
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  const { reference } = lodged;
  const later = new Date(now.getTime() + 3_600_000);
  const flagOf = async (of: string) =>
    (await listReturnQueue(fleet.lead, "open", 1, now))?.rows.find((row) => row.reference === of)?.flag;
  const seen = (...signs: HandSign[]) =>
    arrivalSchema.parse({ scanned: serial, boxCondition: "wet", signs, note: "Lower left corner." });
  expect(await recordArrival(fleet.bench, reference, seen("leaking"), now)).toMatchObject({ ok: true });
  expect(await flagOf(reference)).toBe("isolate");
  // Without a file, and whatever a file would suggest.
  expect((await readBenchReturn(fleet.bench, reference))?.suggestion).toMatchObject({
    remedy: "isolate",
    reasons: [expect.stringMatching(/^Found at goods-in: leaking/)],
  });
  expect(await toldOf(reference)).toMatchObject([
    { kind: "danger-raised", audienceRole: "safety-officer" },
    { kind: "danger-raised", audienceRole: "service-lead" },
    { kind: "safety", dealerId: fleet.berlin.dealerId },
  ]);
  const [opened = "", ...more] = await openIncidentsOfReturn(fleet.bench, reference);
  expect(more).toEqual([]);
  expect((await readIncident(fleet.lead, opened, now))?.state).toMatchObject({
    flags: ["leak"],
    firstKnown: { kind: "bench-note", at: now },
  });
  expect(await recordArrival(fleet.bench, reference, seen("noise"), later)).toMatchObject({ ok: true });
  expect(await flagOf(reference)).toBe("do-not-move");
  expect(await openIncidentsOfReturn(fleet.bench, reference)).toEqual([opened]);
  expect((await readIncident(fleet.lead, opened, later))?.state.flags).toEqual(["venting", "leak"]);
});

const tell = (about: string, change: object = {}) =>
  toldDangerSchema.parse({ about, note: "The customer rang: it smokes in the cellar.", flags: ["fire"], ...change });

test("finance, the administrator and a dealer tell a danger on any pack: incident, flag and calls, and nothing of the case comes back", async () => {
  const [byFinance, byAdministrator, byDealer] = fleet.others.slice(10);
  if (!byFinance || !byAdministrator || !byDealer) throw new Error("the fleet has too few packs");
  const knownAt = "2026-10-08T07:30";
  const told = await tellDanger(fleet.finance, tell(byFinance, { how: "telephone", knownAt }), now);
  expect(told).toMatchObject({ ok: true });
  const incident = await readIncident(fleet.lead, told.ok ? told.incident : "", now);
  expect(incident).toMatchObject({ returnReference: null, openedByName: fleet.finance.name });
  expect(incident?.state).toMatchObject({
    flags: ["fire"],
    firstKnown: { kind: "telephone", at: new Date("2026-10-08T07:30:00Z") },
  });
  const calls = await asSystem((tx) =>
    tx.notice.findMany({ where: { reference: incident?.reference ?? "" }, select: { kind: true, audienceRole: true } }),
  );
  expect(calls).toEqual(
    expect.arrayContaining([
      { kind: "danger-raised", audienceRole: "safety-officer" },
      { kind: "danger-raised", audienceRole: "service-lead" },
    ]),
  );
  // Told again by somebody else: the same incident, with one more entry.
  expect(await tellDanger(fleet.administrator, tell(byFinance, { flags: [] }), now)).toEqual(told);
  expect(await tellDanger(fleet.administrator, tell(byAdministrator), now)).toMatchObject({ ok: true });
  // In Sydney it is ten hours later than in UTC on this day, eleven from October on.
  const bySydney = await tellDanger(fleet.sydney, tell(byDealer, { flags: [], knownAt: "2026-10-08T19:30" }), now);
  const atSydney = await readIncident(fleet.lead, bySydney.ok ? bySydney.incident : "", now);
  expect(atSydney).toMatchObject({ dealer: { country: "AU" } });
  expect(atSydney?.state.firstKnown).toMatchObject({ kind: "dealer-entry", at: new Date("2026-10-08T08:30:00Z") });
  const flags = await asSystem((tx) =>
    tx.track.findMany({
      where: { track: "safety", pack: { serial: { in: [byFinance, byDealer] } } },
      select: { state: true },
      orderBy: { state: "asc" },
    }),
  );
  expect(flags).toEqual([{ state: "do-not-move" }, { state: "isolate" }]);
});

test("a danger told on a return leads the queue; a dealer tells it on no other dealer's return, and nobody from the future", async () => {
  const serial = fleet.others[13] ?? fleet.unsold;
  const lodged = await lodgeReturn(fleet.berlin, filledForm(serial), now);
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  expect(await tellDanger(fleet.sydney, tell(lodged.reference), now)).toMatchObject({ ok: false, field: "about" });
  expect(await tellDanger(fleet.finance, tell("QP24-0000-1"), now)).toMatchObject({ ok: false, field: "about" });
  const later = tell(lodged.reference, { knownAt: "2026-10-09T09:00" });
  expect(await tellDanger(fleet.finance, later, now)).toMatchObject({ ok: false, field: "knownAt" });
  // By serial another dealer is heard, and learns nothing of the return.
  expect(await tellDanger(fleet.sydney, tell(serial), now)).toMatchObject({ ok: true });
  expect(await tellDanger(fleet.finance, tell(lodged.reference), now)).toMatchObject({ ok: true });
  const rows = (await listReturnQueue(fleet.lead, "open", 1, now))?.rows ?? [];
  expect(rows.find((row) => row.reference === lodged.reference)?.flag).toBe("do-not-move");
  expect(await toldOf(lodged.reference)).toMatchObject([
    { kind: "danger-raised", audienceRole: "safety-officer" },
    { kind: "danger-raised", audienceRole: "service-lead" },
  ]);
});

test("an alarm in quarantine opens an incident known since the measurement, and the next one adds to it", async () => {
  const serial = fleet.others[14] ?? fleet.unsold;
  const lodged = await lodgeReturn(fleet.berlin, filledForm(serial), now);
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  const { reference } = lodged;
  const arrival = arrivalSchema.parse({ scanned: serial, boxCondition: "sound", noSigns: true });
  expect(await recordArrival(fleet.bench, reference, arrival, now)).toMatchObject({ ok: true });
  const hour = (hours: number) => new Date(now.getTime() + hours * 3_600_000);
  const measured = (hours: number, surfaceC: number) => ({
    at: hour(hours),
    surfaceC,
    ambientC: 20,
    terminalV: 54,
    noVoltageBecause: null,
  });
  await recordWatch(fleet.bench, reference, measured(0.1, 20), hour(0.1));
  expect(await openIncidentsOfReturn(fleet.bench, reference)).toEqual([]);
  // Written down an hour after it was read off.
  await recordWatch(fleet.bench, reference, measured(1, 25), hour(2));
  const [opened = "", ...more] = await openIncidentsOfReturn(fleet.bench, reference);
  expect(more).toEqual([]);
  const incident = await readIncident(fleet.lead, opened, hour(2));
  expect(incident?.state).toMatchObject({
    flags: ["heat-without-load"],
    firstKnown: { kind: "bench-note", at: hour(1) },
  });
  await recordWatch(fleet.bench, reference, measured(3, 27), hour(3));
  expect(await openIncidentsOfReturn(fleet.bench, reference)).toEqual([opened]);
  const after = await readIncident(fleet.lead, opened, hour(3));
  expect(after?.entries.length).toBeGreaterThan(incident?.entries.length ?? 0);
});

test("a deputy of the safety officer judges an alarm and lowers the flag; without the office nobody does", async () => {
  const serial = fleet.others[14] ?? fleet.unsold;
  const [{ reference } = { reference: "" }] = await asSystem((tx) =>
    tx.return.findMany({ where: { pack: { serial } }, select: { reference: true } }),
  );
  const deputy = mintActor({ ...fleet.lead, isSafetyDeputy: true });
  const at = new Date(now.getTime() + 4 * 3_600_000);
  const why = "A lamp shone on it; looked at from all sides.";
  expect(await restartWatch(fleet.lead, reference, why, at)).toMatchObject({ reason: "alarm" });
  expect(await restartWatch(deputy, reference, why, at)).toEqual({ ok: true });
  const lower = { to: "caution", reason: "It was the lamp.", seenVersion: 1 } as const;
  expect(await flagSafety(fleet.lead, reference, lower, at)).toMatchObject({ ok: false });
  expect(await flagSafety(deputy, reference, lower, at)).toMatchObject({ ok: true });
});

test("of those who close and tell at once one is heard first: nothing is written behind a close, and nothing told is lost", async () => {
  for (const round of [1, 2, 3, 4]) {
    const lodged = await lodgeReturn(
      fleet.berlin,
      filledForm(fleet.others[fleet.others.length - round] ?? fleet.unsold),
      now,
    );
    if (!lodged.ok) throw new Error(JSON.stringify(lodged));
    const raised = await raiseIncident(fleet.lead, lodged.reference, known({ flags: ["leak"] }), now);
    if (!raised.ok) throw new Error(raised.sentence);
    const opened = await readIncident(fleet.safetyOfficer, raised.reference, now);
    const seenEntries = opened?.entries.at(-1)?.sequence ?? 0;
    for (const { clock } of opened?.clocks ?? []) {
      const decision = { clockId: clock.id, seenEntries, decision: "not-reported", until: undefined } as const;
      const why = { reason: "Counsel's letter goes through every element.", lawyerReference: "Letter of 9 October" };
      await decideOnClock(fleet.safetyOfficer, raised.reference, { ...decision, ...why }, now);
    }
    const words = `Round ${round}: a child was burned.`;
    const close = () => closeIncident(fleet.safetyOfficer, raised.reference, "Everything was looked into.", now);
    const told = () => addKnowledge(fleet.bench, raised.reference, known({ note: words }), now);
    const flagged = () => {
      const request = { to: "do-not-move", reason: words, seenVersion: 1 } as const;
      return flagSafety(fleet.berlin, lodged.reference, request, now);
    };
    const [closed, again, kept, flag] = await Promise.all(
      round % 2 === 0 ? [close(), close(), told(), flagged()] : [close(), told(), told(), flagged()],
    );
    const said = `round ${round}: ${JSON.stringify([closed, again, kept, flag])}`;
    const entries = await asSystem((tx) =>
      tx.incidentEntry.findMany({
        where: { incident: { pack: { returns: { some: { reference: lodged.reference } } } } },
        select: { incidentId: true, kind: true, content: true },
        orderBy: [{ incidentId: "asc" }, { sequence: "asc" }],
      }),
    );
    const incidents = [...new Set(entries.map(({ incidentId }) => incidentId))];
    for (const id of incidents) {
      const its = entries.filter(({ incidentId }) => incidentId === id);
      const end = its.findIndex(({ kind }) => kind === "closed");
      expect(end === -1 || end === its.length - 1, said).toBe(true);
    }
    const closes = [closed, ...(round % 2 === 0 ? [again] : [])].filter((answer) => answer?.ok).length;
    const tellings = [...(round % 2 === 0 ? [] : [again]), kept, flag].filter((answer) => answer?.ok).length;
    expect(
      entries.filter(({ kind }) => kind === "closed"),
      said,
    ).toHaveLength(closes);
    expect(closes, said).toBeLessThanOrEqual(1);
    expect(flag?.ok, said).toBe(true);
    // Every telling that was taken stands in an incident of this pack, in one that is open where the other was closed first.
    const heard = entries.filter(({ content }) => JSON.stringify(content).includes(words));
    expect(heard, said).toHaveLength(tellings);
    if (closes === 1) expect(incidents, said).toHaveLength(2);
  }
  expect((await verifyEveryChain()).broken).toEqual([]);
});

test("an open incident whose entries and mark were deleted is found", async () => {
  const open = await asSystem((tx) => tx.incident.findFirstOrThrow({ where: { closing: null } }));
  await asSystem(async (tx) => {
    await tx.$executeRawUnsafe(`ALTER TABLE "IncidentEntry" DISABLE TRIGGER USER, NO FORCE ROW LEVEL SECURITY`);
    await tx.incidentEntry.deleteMany({ where: { incidentId: open.id } });
    await tx.$executeRawUnsafe(`ALTER TABLE "IncidentEntry" ENABLE TRIGGER USER, FORCE ROW LEVEL SECURITY`);
    await tx.chainMark.deleteMany({ where: { chain: `incident ${open.id}` } });
  });
  expect((await verifyEveryChain()).broken).toMatchObject([
    { chain: open.reference, sentence: expect.stringMatching(/entries are gone/) },
  ]);
});

test("once the day of an investigation is over its incident stands among the undecided again and the safety officer is called", async () => {
  const serial = fleet.others[8] ?? fleet.unsold;
  const lodged = await lodgeReturn(fleet.berlin, filledForm(serial), now);
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  const raised = await raiseIncident(fleet.bench, lodged.reference, known({ flags: ["fire"] }), now);
  if (!raised.ok) throw new Error(raised.sentence);
  const seen = await readIncident(fleet.safetyOfficer, raised.reference, now);
  const seenEntries = seen?.entries.at(-1)?.sequence ?? 0;
  const why = { reason: "Counsel waits for the photographs.", lawyerReference: "Letter of 9 October 2026" };
  for (const { clock } of seen?.clocks ?? []) {
    const decision = { clockId: clock.id, seenEntries, decision: "investigating", ...why } as const;
    const today = civilDateAt(now, clock.zone);
    for (const until of [plusDays(today, -1), today]) {
      const answer = await decideOnClock(fleet.safetyOfficer, raised.reference, { ...decision, until }, now);
      expect(answer).toMatchObject({ ok: false, sentence: expect.stringContaining("after today") });
    }
    const until = plusDays(today, 2);
    const answer = await decideOnClock(fleet.safetyOfficer, raised.reference, { ...decision, until }, now);
    expect(answer).toMatchObject({ ok: true });
  }
  expect(await acknowledgeIncident(fleet.safetyOfficer, raised.reference, seenEntries, now)).toMatchObject({
    ok: true,
  });
  const daysLater = (days: number) => new Date(now.getTime() + days * 86_400_000);
  const isCalled = async (at: Date) =>
    (await listUnansweredIncidents(fleet.safetyOfficer, at)).includes(raised.reference);
  expect([await isCalled(now), await isCalled(daysLater(1)), await isCalled(daysLater(4))]).toEqual([
    false,
    false,
    true,
  ]);
  const before = (await callsOf(raised.reference)).length;
  await callSafetyOfficerAsSystem(daysLater(1));
  expect(await callsOf(raised.reference)).toHaveLength(before);
  await callSafetyOfficerAsSystem(daysLater(4));
  expect(await callsOf(raised.reference)).toHaveLength(before + 1);
  const all = seenEntries + (seen?.clocks.length ?? 0) + 1;
  const late = await acknowledgeIncident(fleet.safetyOfficer, raised.reference, all, daysLater(4));
  expect(late).toMatchObject({ ok: true });
  expect(await isCalled(daysLater(4))).toBe(false);
  const stands = await readIncident(fleet.safetyOfficer, raised.reference, daysLater(4));
  expect(stands?.state.acknowledged?.at).toEqual(daysLater(4));
});

test("a danger of a pack that nobody can name is told by house and dealer, and the pack is named once, by the officer", async () => {
  const about = toldDangerSchema.parse({
    about: "",
    note: "It burnt in the yard, the label is gone.",
    flags: ["fire"],
  });
  const unnamed = toldDangerSchema.parse({ ...about, isUnnamed: "yes", how: "telephone" });
  expect(await tellDanger(fleet.finance, about, now)).toMatchObject({ ok: false, field: "about" });
  expect(await tellDanger(fleet.finance, unnamed, now)).toMatchObject({ ok: false, field: "country" });
  // On the clock of whoever tells it: 19:00 in Sydney is 08:00 UTC, a time that UTC would call the future.
  const typed = toldDangerSchema.parse({ ...unnamed, isUnnamed: "yes", dealer: "B", knownAt: "2026-10-08T19:00" });
  expect(await tellDanger(fleet.finance, typed, now, "UTC")).toMatchObject({ ok: false, field: "knownAt" });
  const told = await tellDanger(fleet.finance, typed, now, "Australia/Sydney");
  if (!told.ok) throw new Error(told.sentence);
  const incident = await readIncident(fleet.safetyOfficer, told.incident, now);
  expect(incident).toMatchObject({ pack: null, dealer: { town: "Berlin" } });
  expect(incident?.state).toMatchObject({ flags: ["fire"], firstKnown: { at: new Date("2026-10-08T08:00:00Z") } });
  expect(await listUnansweredIncidents(fleet.safetyOfficer, now)).toContain(told.incident);
  const again = await tellDanger(fleet.berlin, toldDangerSchema.parse({ ...unnamed, isUnnamed: "yes" }), now);
  expect(again.ok && again.incident !== told.incident).toBe(true);

  const serial = fleet.others[13] ?? fleet.unsold;
  expect(await nameIncidentPack(fleet.lead, told.incident, serial, now)).toMatchObject({ ok: false });
  expect(await nameIncidentPack(fleet.safetyOfficer, told.incident, "QP24-0000-1", now)).toMatchObject({ ok: false });
  expect(await nameIncidentPack(fleet.safetyOfficer, told.incident, serial, now)).toMatchObject({ ok: true });
  expect(await nameIncidentPack(fleet.safetyOfficer, told.incident, byOther(serial), now)).toMatchObject({
    ok: false,
    sentence: expect.stringContaining("named already"),
  });
  const named = await readIncident(fleet.safetyOfficer, told.incident, now);
  expect(named?.pack?.serialShown).toBeDefined();
  expect(named?.entries.at(-1)?.content).toEqual({ kind: "pack", serial });
  const track = await asSystem((tx) => tx.track.findFirst({ where: { track: "safety", pack: { serial } } }));
  expect(track?.state).toBe("do-not-move");
});

const byOther = (serial: string) => fleet.others.find((one) => one !== serial) ?? fleet.unsold;
