import { randomUUID } from "node:crypto";
import { beforeAll, expect, test } from "vitest";
import { type Actor, mintActor, type Role } from "@/lib/access/actor";
import { openAccountAsSystem } from "@/lib/auth/accounts";
import { authentication } from "@/lib/auth/authentication";
import { inviteAccount, inviteAgain, readInvitation, setInvitedPassword } from "@/lib/auth/invitations";
import { closeAccount, editAccount, openAccountAgain } from "@/lib/data/accounts/keep-accounts";
import { listAccounts } from "@/lib/data/accounts/users";
import { asSystem } from "@/lib/data/database";
import { createSmallFleet, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

const now = new Date();
const days = (count: number) => new Date(now.getTime() + count * 86_400_000);
const password = "a row of plain words";
let fleet: SmallFleet;

beforeAll(async () => {
  fleet = await createSmallFleet();
});

async function person(email: string, role: Role, dealerId: string | null = null): Promise<Actor> {
  const account = { email, name: email, role, dealerId, password, isDemo: false };
  return mintActor({ userId: await openAccountAsSystem(account), name: email, role, dealerId });
}

async function signIn(email: string, typed: string): Promise<boolean> {
  const { api } = await authentication();
  return api.signInEmail({ body: { email, password: typed } }).then(
    () => true,
    () => false,
  );
}
const sessionsOf = (userId: string) => asSystem((tx) => tx.session.count({ where: { userId } }));
const idOf = (email: string) =>
  asSystem(async (tx) => (await tx.user.findUniqueOrThrow({ where: { email }, select: { id: true } })).id);

test("an account is opened with a link that sets the password once, and whoever opened it knows none", async () => {
  const administrator = await person("ada@maker.example", "administrator");
  const wish = { email: "new@maker.example", name: "New Person", role: "technician", dealerCode: "" } as const;
  const invited = await inviteAccount(administrator, wish, now);
  if (!invited.ok) throw new Error(invited.sentence);
  const token = invited.link.split("/").at(-1) ?? "";
  expect(await inviteAccount(administrator, wish, now)).toMatchObject({ reason: "email-taken" });
  expect(await readInvitation(token, now)).toMatchObject({ email: "new@maker.example" });
  expect(await readInvitation(token, days(8))).toBeNull();
  expect(await setInvitedPassword(token, "short", "short", now)).toMatchObject({ field: "password" });
  expect(await setInvitedPassword(token, password, `${password}!`, now)).toMatchObject({ field: "again" });
  const both = await Promise.all([1, 2].map(() => setInvitedPassword(token, password, password, now)));
  expect(both.filter(({ ok }) => ok)).toHaveLength(1);
  expect(await signIn("new@maker.example", password)).toBe(true);
  expect(await readInvitation(token, now)).toBeNull();
  // The database keeps no link, only its hash.
  await inviteAgain(administrator, await idOf("new@maker.example"), now);
  const kept = await asSystem((tx) => tx.verification.findMany({ select: { value: true } }));
  expect(kept.every(({ value }) => /^[0-9a-f]{64}$/.test(value))).toBe(true);
});

test("closing an account ends every session and every link of it, and nobody signs in with it", async () => {
  const administrator = await person("adil@maker.example", "administrator");
  const { userId } = await person("toni@maker.example", "technician");
  expect(await signIn("toni@maker.example", password)).toBe(true);
  const link = await inviteAgain(administrator, userId, now);
  expect(await sessionsOf(userId)).toBe(1);
  expect(await closeAccount(administrator, userId, now)).toEqual({ ok: true });
  expect(await sessionsOf(userId)).toBe(0);
  expect(await readInvitation(link.ok ? (link.link.split("/").at(-1) ?? "") : "", now)).toBeNull();
  expect(await inviteAgain(administrator, userId, now)).toMatchObject({ reason: "not-found" });
  expect(await openAccountAgain(administrator, userId)).toEqual({ ok: true });
  await signIn("toni@maker.example", password);
  expect(await editAccount(administrator, userId, { name: "Toni", role: "finance" })).toEqual({ ok: true });
  expect(await sessionsOf(userId)).toBe(0);
});

test("a dealer's own administrator keeps the accounts of the own dealer and sees no other", async () => {
  const admin = await person("chief@berlin.example", "dealer-admin", fleet.berlin.dealerId);
  const other = await person("hand@sydney.example", "dealer", fleet.sydney.dealerId);
  const wish = { email: "hand@berlin.example", name: "Hand", role: "dealer", dealerCode: "S" } as const;
  expect(await inviteAccount(admin, wish, now)).toMatchObject({ ok: true });
  // Whatever dealer the form names, it is the own one.
  const made = await asSystem((tx) => tx.user.findUniqueOrThrow({ where: { email: wish.email } }));
  expect(made.dealerId).toBe(fleet.berlin.dealerId);
  expect(await inviteAccount(admin, { ...wish, email: "x@x.example", role: "technician" }, now)).toMatchObject({
    reason: "role-not-theirs",
  });
  for (const answer of [
    await closeAccount(admin, other.userId, now),
    await editAccount(admin, other.userId, { name: "X", role: "dealer" }),
    await openAccountAgain(admin, other.userId),
    await inviteAgain(admin, other.userId, now),
  ])
    expect(answer).toMatchObject({ reason: "not-found" });
  expect((await listAccounts(admin))?.map(({ email }) => email).sort()).toEqual([
    "chief@berlin.example",
    "hand@berlin.example",
  ]);
  expect(await closeAccount(admin, made.id, now)).toEqual({ ok: true });
  for (const actor of [fleet.berlin, fleet.bench, fleet.finance]) {
    expect(await listAccounts(actor)).toBeNull();
    expect(await closeAccount(actor, made.id, now)).toMatchObject({ ok: false });
  }
});

test("of two last administrators who close each other at once one stays", async () => {
  await asSystem((tx) => tx.user.updateMany({ where: { role: "administrator" }, data: { disabledAt: now } }));
  const [one, two] = [
    await person("one@maker.example", "administrator"),
    await person("two@maker.example", "administrator"),
  ];
  const answers = await Promise.all([closeAccount(one, two.userId, now), closeAccount(two, one.userId, now)]);
  expect(answers.filter(({ ok }) => ok)).toHaveLength(1);
  expect(answers.find(({ ok }) => !ok)).toMatchObject({ reason: "last-administrator" });
  expect(await closeAccount(fleet.manager, one.userId, now)).toMatchObject({ reason: "not-theirs" });
  expect(await closeAccount(one, randomUUID(), now)).toMatchObject({ reason: "not-found" });
});
