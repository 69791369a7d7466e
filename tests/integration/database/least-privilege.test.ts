import { beforeAll, expect, test } from "vitest";
import { mintActor } from "@/lib/access/actor";
import { LOOK_MINUTES } from "@/lib/access/emergency-look";
import { newDealerSchema } from "@/lib/access/new-dealer.schema";
import { inviteAccount } from "@/lib/auth/invitations";
import { addDealer } from "@/lib/data/accounts/add-dealer";
import { changeDealer, listDealersOnRecord } from "@/lib/data/accounts/change-dealer";
import { listDealers } from "@/lib/data/accounts/dealers";
import { asActor, asSystem } from "@/lib/data/database";
import { noticePath } from "@/lib/data/notices/notices";
import { listEmergencyLooks, openEmergencyLook, readCaseUnderLook } from "@/lib/data/returns/emergency-look";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { listSettingsVersions } from "@/lib/data/returns/settings-versions";
import { listPolicies, settlePolicy } from "@/lib/data/warranty/policies";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";
import { expectWrittenOnce } from "@/tests/support/written-once";

withTestDatabase();

const now = new Date("2026-10-05T09:00:00Z");
const later = (minutes: number) => new Date(now.getTime() + minutes * 60_000);
const keeper = (id: string) => mintActor({ userId: id, name: `Ada ${id}`, role: "administrator", dealerId: null });
const ada = keeper("ada");
const because = "The post of this return hangs; is it the return or the server?";
let fleet: SmallFleet;
let reference = "";

beforeAll(async () => {
  fleet = await createSmallFleet({ packs: 4 });
  const answer = await lodgeReturn(fleet.berlin, filledForm(fleet.soldInBerlin), now);
  if (!answer.ok) throw new Error(JSON.stringify(answer));
  reference = answer.reference;
});

const looksAt = (actor: typeof ada, at = now) =>
  openEmergencyLook(actor, { reference, reason: because }, at).then(({ ok }) => ok);

test("an administrator sees no case, not even through the database", async () => {
  expect(await readCaseUnderLook(ada, reference, now)).toBeNull();
  const seen = await asActor(ada, async (tx) => [
    await tx.return.count(),
    await tx.returnMove.count(),
    await tx.sale.count(),
    await tx.readingFile.count(),
  ]);
  expect(seen).toEqual([0, 0, 0, 0]);
});

test("for a reason and half an hour it sees one, managers are told at once, and each showing is kept", async () => {
  const opened = await openEmergencyLook(ada, { reference, reason: because }, now);
  expect(opened).toEqual({ ok: true, reference, endsAt: later(LOOK_MINUTES) });
  const told = await asSystem((tx) =>
    tx.notice.findMany({ where: { kind: "emergency-look" }, select: { audienceRole: true, reference: true } }),
  );
  expect(told).toEqual([{ audienceRole: "manager", reference }]);
  expect(noticePath("emergency-look", reference, false)).toBe("/emergency-look");
  const seen = await readCaseUnderLook(ada, reference, later(10));
  expect(seen).toMatchObject({ reference, status: "sent-in", reason: because });
  expect(seen?.moves).toHaveLength(1);
  // What the customer said stays where it is.
  expect(JSON.stringify(seen)).not.toContain("concern");
  expect(await readCaseUnderLook(ada, reference, later(LOOK_MINUTES))).toBeNull();
  const [entry] = (await listEmergencyLooks(fleet.manager, later(40))) ?? [];
  expect(entry).toMatchObject({ reference, openedByName: "Ada ada", isRunning: false, shownAt: [later(10)] });
});

test("the look is that administrator's alone, and opens nothing else", async () => {
  expect(await looksAt(ada, later(60))).toBe(true);
  expect(await readCaseUnderLook(keeper("bob"), reference, later(61))).toBeNull();
  expect(await listEmergencyLooks(keeper("bob"), later(61))).toEqual([]);
  expect(await asActor(ada, (tx) => tx.return.count())).toBe(0);
});

test("nobody else opens one, nobody else reads who did, and what is not there is told as such", async () => {
  for (const actor of [fleet.berlin, fleet.bench, fleet.lead, fleet.manager, fleet.safetyOfficer, fleet.finance]) {
    expect(await openEmergencyLook(actor, { reference, reason: because }, now)).toMatchObject({
      reason: "not-allowed",
    });
    expect(await readCaseUnderLook(actor, reference, now)).toBeNull();
  }
  for (const actor of [fleet.berlin, fleet.bench, fleet.lead, fleet.safetyOfficer, fleet.finance]) {
    expect(await listEmergencyLooks(actor, now)).toBeNull();
    expect(await asActor(actor, (tx) => tx.emergencyLook.count())).toBe(0);
  }
  expect(await openEmergencyLook(ada, { reference: "nothing", reason: because }, now)).toMatchObject({
    reason: "not-found",
  });
});

test("no look is written past the program, none longer than an hour, and none is changed", async () => {
  const { id: returnId } = await asSystem((tx) =>
    tx.return.findUniqueOrThrow({ where: { reference }, select: { id: true } }),
  );
  const row = { returnId, reason: because, openedByUserId: "x", openedByName: "x", openedAt: now };
  const short = { ...row, endsAt: later(30) };
  await expect(asActor(ada, (tx) => tx.emergencyLook.create({ data: short }))).rejects.toThrow(/row-level security/);
  const long = { ...row, endsAt: later(61) };
  await expect(asSystem((tx) => tx.emergencyLook.create({ data: long }))).rejects.toThrow(/EmergencyLook_short/);
  await expectWrittenOnce(
    () => asSystem((tx) => tx.emergencyLook.findMany({ orderBy: { id: "asc" } })),
    () => asSystem((tx) => tx.emergencyLook.updateMany({ data: { reason: "Something else, written afterwards." } })),
  );
  await expectWrittenOnce(
    () => asSystem((tx) => tx.emergencyLookPage.findMany({ orderBy: { id: "asc" } })),
    () => asSystem((tx) => tx.emergencyLookPage.deleteMany()),
  );
});

const dealer = {
  code: "north-2",
  name: "Nordlicht Räder",
  town: "Tromsø",
  country: "no",
  timeZone: "Europe/Oslo",
  joinedOn: "2026-09-01",
};

test("an administrator adds a dealer, under its own name, and opens its first account", async () => {
  expect(await addDealer(ada, newDealerSchema.parse(dealer), now)).toEqual({ ok: true });
  expect(await addDealer(ada, newDealerSchema.parse(dealer), now)).toMatchObject({ reason: "code-taken" });
  expect(await listDealers(ada)).toContainEqual({ code: "NORTH-2", name: "Nordlicht Räder, Tromsø" });
  const kept = await asSystem((tx) =>
    tx.dealer.findUniqueOrThrow({ where: { code: "NORTH-2" }, select: { country: true, addedByName: true } }),
  );
  expect(kept).toEqual({ country: "NO", addedByName: "Ada ada" });
  const wish = { email: "first@north.example", name: "First", role: "dealer-admin", dealerCode: "NORTH-2" } as const;
  expect(await inviteAccount(ada, wish, now)).toMatchObject({ ok: true });
});

test("an administrator gives a dealer another name and town, and what it was before stays on record", async () => {
  const seen = { code: "NORTH-2", nameSeen: "Nordlicht Räder", townSeen: "Tromsø" };
  const change = { ...seen, name: "Nordlys Sykler", town: "Tromsø", why: "Bought by its workers." };
  expect(await changeDealer(ada, { ...change, name: seen.nameSeen }, now)).toMatchObject({ reason: "nothing-new" });
  expect(await changeDealer(ada, { ...change, code: "SOUTH" }, now)).toMatchObject({ reason: "not-found" });
  expect(await changeDealer(ada, change, now)).toEqual({ ok: true });
  // Whoever had the old name on the screen is told, and changes nothing.
  expect(await changeDealer(ada, { ...change, name: "Nordwind" }, now)).toMatchObject({ reason: "changed-meanwhile" });
  expect((await listDealersOnRecord(ada))?.find(({ code }) => code === "NORTH-2")).toMatchObject({
    name: "Nordlys Sykler",
    country: "NO",
    timeZone: "Europe/Oslo",
    changes: [{ nameBefore: "Nordlicht Räder", townBefore: "Tromsø", changedByName: "Ada ada" }],
  });
  await expectWrittenOnce(
    () => asSystem((tx) => tx.dealerChange.findMany({ orderBy: { id: "asc" } })),
    () => asSystem((tx) => tx.dealerChange.updateMany({ data: { nameBefore: "Another" } })),
  );
});

test("nobody else changes a dealer, and nobody its country or zone", async () => {
  const change = {
    code: "NORTH-2",
    nameSeen: "Nordlys Sykler",
    townSeen: "Tromsø",
    name: "X Y",
    town: "Oslo",
    why: "So.",
  };
  for (const actor of [fleet.berlin, fleet.lead, fleet.manager, fleet.finance]) {
    expect(await changeDealer(actor, change, now)).toMatchObject({ reason: "not-allowed" });
    expect(await listDealersOnRecord(actor)).toBeNull();
    const renamed = asActor(actor, (tx) => tx.dealer.updateMany({ data: { name: "Mine" } }));
    expect(await renamed).toEqual({ count: 0 });
  }
  for (const data of [{ country: "SE" }, { timeZone: "Europe/Stockholm" }, { code: "NORTH-3" }])
    await expect(asActor(ada, (tx) => tx.dealer.updateMany({ where: { code: "NORTH-2" }, data }))).rejects.toThrow(
      /permission denied/,
    );
});

test("nobody else adds one, and no field takes what is no country, zone or day", async () => {
  for (const actor of [fleet.berlin, fleet.lead, fleet.manager, fleet.finance]) {
    expect(await addDealer(actor, newDealerSchema.parse({ ...dealer, code: "X" }), now)).toMatchObject({
      reason: "not-allowed",
    });
    const row = { ...dealer, code: "X", joinedOn: now };
    await expect(asActor(actor, (tx) => tx.dealer.create({ data: row }))).rejects.toThrow(/row-level security/);
  }
  const toCome = newDealerSchema.parse({ ...dealer, code: "X", joinedOn: "2026-10-06" });
  expect(await addDealer(ada, toCome, now)).toMatchObject({ reason: "day-to-come" });
  const wrong = newDealerSchema.safeParse({ ...dealer, country: "UK", timeZone: "Europe/Nowhere", joinedOn: "1.9.26" });
  expect(wrong.error?.issues.map(({ path }) => path[0])).toEqual(["country", "timeZone", "joinedOn"]);
});

test("the safety officer reads what is promised and proposed, and neither proposes nor settles it", async () => {
  expect(await listPolicies(fleet.safetyOfficer)).not.toBeNull();
  expect(await listSettingsVersions(fleet.safetyOfficer, now)).not.toBeNull();
  expect(await listPolicies(fleet.lead)).toBeNull();
  const [policy] = (await listPolicies(fleet.manager)) ?? [];
  expect(policy).toBeDefined();
  expect(await settlePolicy(fleet.safetyOfficer, policy?.version ?? "", "dropped", now)).toMatchObject({
    reason: "not-allowed",
  });
});
