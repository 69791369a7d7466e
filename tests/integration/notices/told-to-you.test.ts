import { beforeAll, expect, test } from "vitest";
import { mintActor, type Role, roles } from "@/lib/access/actor";
import { asActor, asSystem } from "@/lib/data/database";
import { queueNotice } from "@/lib/data/notices/notices";
import {
  countUnreadTold,
  listToldToYou,
  MOST_UNREAD_COUNTED,
  openToldNotice,
  readAllTold,
} from "@/lib/data/notices/told-to-you";
import { countStatements } from "@/tests/support/count-statements";
import { createSmallFleet, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

let fleet: SmallFleet;
const now = new Date("2026-10-05T09:00:00Z");

const person = (userId: string, role: Role, isSafetyDeputy = false) =>
  mintActor({ userId, name: userId, role, dealerId: null, isSafetyDeputy });
const of = {
  technician: person("tilda", "technician"),
  lead: person("liv", "service-lead"),
  otherLead: person("lars", "service-lead"),
  deputy: person("dora", "service-lead", true),
  manager: person("mona", "manager"),
  officer: person("signe", "safety-officer"),
  finance: person("fine", "finance"),
  administrator: person("adam", "administrator"),
};

const tell = (kind: "danger-raised" | "refund-to-pay" | "emergency-look" | "objected", reference: string, role: Role) =>
  asSystem((tx) => queueNotice(tx, { kind, reference, occasion: "once", to: { role } }));
const subjects = async (actor: Parameters<typeof listToldToYou>[0]) =>
  (await listToldToYou(actor, null, now)).notices.map(({ subject }) => subject);

beforeAll(async () => {
  fleet = await createSmallFleet();
  await tell("objected", "R-26-00001-X", "service-lead");
  await tell("refund-to-pay", "R-26-00002-X", "finance");
  await tell("emergency-look", "R-26-00003-X", "administrator");
});

test("what goes to an office of the house is read on a page by those of that office, and by nobody else", async () => {
  expect(await subjects(of.lead)).toEqual([expect.stringContaining("R-26-00001-X")]);
  expect(await subjects(of.finance)).toEqual([expect.stringContaining("R-26-00002-X")]);
  // The administrator's own transaction sees no case, and yet what is told to that office.
  expect(await subjects(of.administrator)).toEqual([expect.stringContaining("R-26-00003-X")]);
  expect(await subjects(of.technician)).toEqual([]);
  expect(await subjects(of.manager)).toEqual([]);
  expect(await subjects(fleet.berlin)).toEqual([]);
  expect((await listToldToYou(of.lead, null, now)).notices[0]?.paragraphs.join(" ")).not.toMatch(/\/bench\//);
});

test("what is told to the safety officer is read by a named deputy too, marked as of that office", async () => {
  await tell("danger-raised", "R-26-00004-X", "safety-officer");
  const told = (await listToldToYou(of.deputy, null, now)).notices;
  expect(told.map(({ office }) => office)).toEqual(["safety-officer", "service-lead"]);
  expect(await subjects(of.officer)).toEqual([expect.stringContaining("R-26-00004-X")]);
  expect(await subjects(of.lead)).toHaveLength(1);
});

test("with nobody in the safety office and no deputy the managers read what is told to it, as they do in the post", async () => {
  await asSystem((tx) =>
    tx.user.create({ data: { id: "mona", name: "Mona", email: "mona@people.example", role: "manager" } }),
  );
  expect(await subjects(of.manager)).toEqual([expect.stringContaining("R-26-00004-X")]);
  await asSystem((tx) =>
    tx.user.create({ data: { id: "signe", name: "Signe", email: "signe@people.example", role: "safety-officer" } }),
  );
  expect(await subjects(of.manager)).toEqual([]);
});

test("opening one leads to what it is about and marks it as read by that person alone", async () => {
  const [notice] = (await listToldToYou(of.lead, null, now)).notices;
  expect(notice?.isRead).toBe(false);
  expect(await openToldNotice(of.lead, notice?.id, now)).toEqual({ kind: "opened", link: "/bench/R-26-00001-X" });
  expect(await openToldNotice(of.lead, notice?.id, now)).toMatchObject({ kind: "opened" });
  expect(await listToldToYou(of.lead, null, now)).toMatchObject({ unread: 0, notices: [{ isRead: true }] });
  expect(await listToldToYou(of.otherLead, null, now)).toMatchObject({ unread: 1, notices: [{ isRead: false }] });
});

test("nobody opens or marks what was told to another office", async () => {
  const [money] = (await listToldToYou(of.finance, null, now)).notices;
  for (const actor of [of.lead, of.manager, of.technician, of.administrator, fleet.berlin]) {
    expect(await openToldNotice(actor, money?.id, now)).toEqual({ kind: "not-told" });
    expect(await readAllTold(actor, money?.id, now)).toBe(0);
  }
  for (const none of [null, "", "abc", "018f0000-0000-7000-8000-000000000000"])
    expect(await openToldNotice(of.finance, none, now)).toEqual({ kind: "not-told" });
  expect(await asSystem((tx) => tx.noticeRead.count({ where: { noticeId: money?.id ?? "" } }))).toBe(0);
});

test("the database itself shows a dealer none of it, and keeps what was read as it was written", async () => {
  const rows = await asActor(fleet.berlin, (tx) => tx.notice.count({ where: { audienceRole: { in: [...roles] } } }));
  expect(rows).toBe(0);
  expect(await asActor(fleet.berlin, (tx) => tx.noticeRead.count())).toBe(0);
  await expect(asActor(of.lead, (tx) => tx.noticeRead.deleteMany())).rejects.toThrow(/permission denied/);
});

test("newest first, a page at a time; all told up to the newest one seen is marked, what came since is not", async () => {
  for (let number = 10; number < 45; number++) await tell("objected", `R-26-000${number}-X`, "service-lead");
  const first = await listToldToYou(of.otherLead, null, now);
  expect(first.notices.map(({ subject }) => /R-26-000(\d+)/.exec(subject)?.[1]).slice(0, 3)).toEqual([
    "44",
    "43",
    "42",
  ]);
  expect([first.notices.length, first.unread]).toEqual([30, 36]);
  const second = await listToldToYou(of.otherLead, first.olderAfter, now);
  expect([second.notices.length, second.olderAfter]).toEqual([6, null]);
  await tell("objected", "R-26-00099-X", "service-lead");
  expect(await readAllTold(of.otherLead, first.notices[0]?.id, now)).toBe(36);
  expect(await listToldToYou(of.otherLead, null, now)).toMatchObject({ unread: 1 });
});

test("the number at the head of every page is that of the page itself, for each person, also while standing in", async () => {
  for (const actor of [
    of.technician,
    of.lead,
    of.otherLead,
    of.deputy,
    of.manager,
    of.officer,
    of.finance,
    of.administrator,
  ]) {
    const { unread } = await listToldToYou(actor, null, now);
    expect(await countUnreadTold(actor, now), actor.userId).toBe(unread);
  }
  expect(await countUnreadTold(fleet.berlin, now)).toBe(0);
  const before = await countUnreadTold(of.finance, now);
  await tell("refund-to-pay", "R-26-00077-X", "finance");
  expect(await countUnreadTold(of.finance, now)).toBe(before + 1);
  const [newest] = (await listToldToYou(of.finance, null, now)).notices;
  await openToldNotice(of.finance, newest?.id, now);
  expect(await countUnreadTold(of.finance, now)).toBe(before);
});

test("the number costs one statement within its transaction and stops where more would say no more", async () => {
  await asSystem((tx) =>
    tx.notice.createMany({
      data: Array.from({ length: MOST_UNREAD_COUNTED + 20 }, (_, index) => ({
        key: `many ${index}`,
        kind: "objected",
        reference: "R-26-00001-X",
        audienceRole: "service-lead",
      })),
    }),
  );
  expect(await countUnreadTold(of.otherLead, now)).toBe(MOST_UNREAD_COUNTED);
  expect(await countStatements(() => countUnreadTold(of.otherLead, now))).toBe(4);
});
