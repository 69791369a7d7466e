import { afterAll, beforeAll, expect, test } from "vitest";
import { asActor, asSystem } from "@/lib/data/database";
import { listUnreachedAudiences } from "@/lib/data/notices/notice-audience";
import { emptyOutbox, tryLetterAgain } from "@/lib/data/notices/notice-post";
import { listDealerNotices, queueNotice, readPostState } from "@/lib/data/notices/notices";
import { MAX_ATTEMPTS } from "@/lib/notices/send-again";
import { calendarDate } from "@/lib/warranty/calendar";
import { type LoopbackMail, startLoopbackMail } from "@/tests/support/loopback-mail";
import { createSmallFleet, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

let fleet: SmallFleet;
let mail: LoopbackMail;
const now = new Date("2026-10-05T09:00:00Z");
const minutesOn = (minutes: number) => new Date(now.getTime() + minutes * 60_000);

beforeAll(async () => {
  fleet = await createSmallFleet();
  mail = await startLoopbackMail();
  process.env.SMTP_URL = mail.url;
  process.env.MAIL_FROM = "returns@maker.example";
  process.env.APP_URL = "https://returns.example/";
  const person = (id: string, role: string, dealerId: string | null, noticeLanguage: string | null = null) => ({
    id,
    name: id,
    email: `${id}@people.example`,
    role,
    dealerId,
    noticeLanguage,
  });
  await asSystem((tx) =>
    tx.user.createMany({
      data: [
        person("berta", "dealer", fleet.berlin.dealerId),
        person("boris", "dealer-admin", fleet.berlin.dealerId, "es"),
        { ...person("gone", "dealer", fleet.berlin.dealerId), disabledAt: now },
        person("sidonie", "dealer", fleet.sydney.dealerId),
        person("signe", "safety-officer", null),
      ],
    }),
  );
});

afterAll(async () => {
  await mail.close();
  delete process.env.SMTP_URL;
  delete process.env.MAIL_FROM;
  delete process.env.APP_URL;
});

const toBerlin = () => ({ dealerId: fleet.berlin.dealerId ?? "" });

test("a notice is sent to the people of its dealer, each in the own language, once", async () => {
  const notice = { kind: "received", reference: "R-26-00001-X", occasion: "version 1", to: toBerlin() } as const;
  await asActor(fleet.berlin, async (tx) => {
    await queueNotice(tx, notice);
    await queueNotice(tx, notice);
  });
  expect(await emptyOutbox(() => now)).toEqual({ sent: 2, failed: 0, givenUp: 0 });
  expect(await emptyOutbox(() => minutesOn(60))).toEqual({ sent: 0, failed: 0, givenUp: 0 });
  expect(mail.mails.map(({ to }) => to[0]).sort()).toEqual(["berta@people.example", "boris@people.example"]);
  const [german, spanish] = ["berta", "boris"].map(
    (name) => mail.mails.find(({ to }) => to[0] === `${name}@people.example`)?.data ?? "",
  );
  expect(german).toMatch(/^Subject: R-26-00001-X: eingegangen\r$/m);
  expect(spanish).toMatch(/^Subject: R-26-00001-X: recibida\r$/m);
  expect(german).toContain("https://returns.example/dealer/returns/R-26-00001-X");
  expect(german).toMatch(/multipart\/alternative/);
  expect(german).toMatch(/^From: returns@maker\.example\r$/m);
});

test("a move that fails takes its notice with it", async () => {
  const failing = asActor(fleet.bench, async (tx) => {
    await queueNotice(tx, { kind: "decided", reference: "R-26-00002-X", occasion: "version 2", to: toBerlin() });
    throw new Error("the move failed");
  });
  await expect(failing).rejects.toThrow("the move failed");
  expect(await emptyOutbox(() => now)).toMatchObject({ sent: 0 });
});

test("a letter that is refused waits, is tried again under the same message id, and its trouble is seen", async () => {
  mail.mails.length = 0;
  mail.refuseNext = 1;
  await asActor(fleet.bench, (tx) =>
    queueNotice(tx, {
      kind: "question",
      reference: "R-26-00003-X",
      occasion: "version 2",
      to: { dealerId: fleet.sydney.dealerId ?? "" },
      until: calendarDate("2026-10-12"),
    }),
  );
  expect(await emptyOutbox(() => now)).toEqual({ sent: 0, failed: 1, givenUp: 0 });
  expect(await emptyOutbox(() => now)).toMatchObject({ sent: 0 });
  const state = await readPostState(fleet.bench);
  expect(state?.troubled).toMatchObject([{ reference: "R-26-00003-X", attempts: 1, isGivenUp: false }]);
  expect(state?.troubled[0]?.lastProblem).toMatch(/450/);
  expect(await emptyOutbox(() => minutesOn(1))).toMatchObject({ sent: 1 });
  expect(mail.mails[0]?.data).toMatch(/^Message-ID: <[0-9a-f-]{36}@returns\.example>\r$/im);
  expect(mail.mails[0]?.data).toMatch(/12 October 2026/);
});

test("after the last attempt a letter is given up, shown to staff, and can be tried once more", async () => {
  mail.mails.length = 0;
  mail.refuseNext = MAX_ATTEMPTS;
  await asActor(fleet.sydney, (tx) =>
    queueNotice(tx, { kind: "safety", reference: "R-26-00004-X", occasion: "flag", to: { role: "safety-officer" } }),
  );
  let hours = 0;
  const rounds = [];
  for (let round = 0; round < MAX_ATTEMPTS; round++) {
    rounds.push(await emptyOutbox(() => minutesOn(60 * hours)));
    hours += 9;
  }
  expect(rounds.at(-1)).toEqual({ sent: 0, failed: 0, givenUp: 1 });
  expect(await emptyOutbox(() => minutesOn(60 * hours))).toMatchObject({ sent: 0 });
  const dead = (await readPostState(fleet.bench))?.troubled.find(({ isGivenUp }) => isGivenUp);
  expect(dead).toMatchObject({ reference: "R-26-00004-X", attempts: MAX_ATTEMPTS });
  expect(await tryLetterAgain(fleet.berlin, dead?.id ?? "", minutesOn(60 * hours))).toBe(false);
  expect(await tryLetterAgain(fleet.bench, dead?.id ?? "", minutesOn(60 * hours))).toBe(true);
  expect(await emptyOutbox(() => minutesOn(60 * hours))).toMatchObject({ sent: 1 });
  expect(mail.mails[0]?.to).toEqual(["signe@people.example"]);
});

test("the wait after a failure is counted from the letter that failed, however long the round took before it", async () => {
  mail.mails.length = 0;
  mail.refuseNext = 2;
  await asActor(fleet.bench, (tx) =>
    queueNotice(tx, { kind: "sent-back", reference: "R-26-00007-X", occasion: "version 4", to: toBerlin() }),
  );
  let minutes = 7000;
  // A slow server: six minutes between two looks at the clock.
  const slow = () => {
    minutes += 6;
    return minutesOn(minutes);
  };
  expect(await emptyOutbox(slow)).toEqual({ sent: 0, failed: 2, givenUp: 0 });
  const waiting = await asSystem((tx) =>
    tx.noticeLetter.findMany({
      where: { notice: { reference: "R-26-00007-X" } },
      select: { nextAttemptAt: true },
      orderBy: { nextAttemptAt: "asc" },
    }),
  );
  // Each letter looks at the clock when it is claimed and when it has failed; the first wait is a minute.
  expect(waiting.map(({ nextAttemptAt }) => nextAttemptAt)).toEqual([minutesOn(minutes - 11), minutesOn(minutes + 1)]);
  expect(await emptyOutbox(() => minutesOn(minutes + 1))).toMatchObject({ sent: 2 });
});

test("of two postmen at once only one takes a letter", async () => {
  mail.mails.length = 0;
  await asActor(fleet.bench, (tx) =>
    queueNotice(tx, { kind: "sent-back", reference: "R-26-00005-X", occasion: "version 9", to: toBerlin() }),
  );
  const rounds = await Promise.all([emptyOutbox(() => minutesOn(9000)), emptyOutbox(() => minutesOn(9000))]);
  expect(rounds.reduce((sum, { sent }) => sum + sent, 0)).toBe(2);
  expect(mail.mails).toHaveLength(2);
});

test("a call to an office that nobody holds goes to the managers; what reaches nobody is shown", async () => {
  mail.mails.length = 0;
  const closeAll = (role: string, disabledAt: Date | null) =>
    asSystem((tx) => tx.user.updateMany({ where: { role }, data: { disabledAt } }));
  await closeAll("safety-officer", now);
  await asSystem((tx) =>
    tx.user.create({ data: { id: "malik", name: "malik", email: "malik@people.example", role: "manager" } }),
  );
  const call = { kind: "incident-call", reference: "S-26-0001-X", occasion: "call 1" } as const;
  const owed = { kind: "approved", reference: "R-26-00008-X", occasion: "version 5" } as const;
  await asSystem(async (tx) => {
    await queueNotice(tx, { ...call, to: { role: "safety-officer" } });
    await queueNotice(tx, { ...owed, to: { role: "finance" } });
  });
  expect(await emptyOutbox(() => minutesOn(9100))).toMatchObject({ sent: 1 });
  expect(mail.mails[0]?.to).toEqual(["malik@people.example"]);
  const unreached = await listUnreachedAudiences(fleet.bench);
  expect(unreached).toMatchObject([{ dealerName: null, role: "finance", messages: 1 }]);
  await asSystem((tx) =>
    tx.user.create({ data: { id: "fiona", name: "fiona", email: "fiona@people.example", role: "finance" } }),
  );
  expect(await listUnreachedAudiences(fleet.bench)).toEqual([]);
  expect(await listUnreachedAudiences(fleet.berlin)).toEqual([]);
  await closeAll("safety-officer", null);
});

test("a dealer reads its own notices on the page, nobody else's, and never an address", async () => {
  const berlin = await listDealerNotices(fleet.berlin);
  expect(berlin.map(({ kind }) => kind).sort()).toEqual(["received", "sent-back", "sent-back"]);
  expect(berlin.find(({ kind }) => kind === "received")?.subject).toBe("R-26-00001-X: eingegangen");
  for (const { paragraphs, link } of berlin) expect(paragraphs.join(" ")).not.toContain(link);
  expect((await listDealerNotices(fleet.sydney)).map(({ kind }) => kind)).toEqual(["question"]);
  expect(await readPostState(fleet.berlin)).toBeNull();
  await expect(asActor(fleet.bench, (tx) => tx.noticeLetter.findMany({ select: { address: true } }))).rejects.toThrow(
    /permission denied/,
  );
  expect(await asActor(fleet.berlin, (tx) => tx.noticeLetter.count())).toBe(0);
});

test("a dealer cannot put words in the maker's mouth to another dealer", async () => {
  const forged = asActor(fleet.berlin, (tx) =>
    queueNotice(tx, {
      kind: "decided",
      reference: "R-26-00009-X",
      occasion: "x",
      to: { dealerId: fleet.sydney.dealerId ?? "" },
    }),
  );
  await expect(forged).rejects.toThrow(/row-level security/);
});

test("without a mail server no letter is made out and the page still tells", async () => {
  process.env.SMTP_URL = "";
  await asActor(fleet.bench, (tx) =>
    queueNotice(tx, { kind: "decided", reference: "R-26-00006-X", occasion: "version 3", to: toBerlin() }),
  );
  expect(await emptyOutbox(() => now)).toEqual({ sent: 0, failed: 0, givenUp: 0 });
  expect((await readPostState(fleet.bench))?.isMailSetUp).toBe(false);
  expect((await listDealerNotices(fleet.berlin)).map(({ kind }) => kind)).toContain("decided");
  process.env.SMTP_URL = mail.url;
});
