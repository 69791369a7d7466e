import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import { beforeAll, expect, test } from "vitest";
import { openAccountAsSystem } from "@/lib/auth/accounts";
import { asSystem } from "@/lib/data/database";
import { databaseTarget } from "@/lib/data/database-target";
import { FolderInUseError, lockFolder } from "@/lib/data/folder-lock";
import { createSmallFleet, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

let fleet: SmallFleet;
beforeAll(async () => {
  fleet = await createSmallFleet();
});

test("a build record is never changed or deleted", async () => {
  await expect(asSystem((tx) => tx.buildRecord.updateMany({ data: { capacityAh: 1 } }))).rejects.toThrow(
    /written once/,
  );
  await expect(asSystem((tx) => tx.buildRecord.deleteMany())).rejects.toThrow(/written once/);
});

test("the database itself refuses what no rule allows", async () => {
  const revision = await asSystem((tx) => tx.revision.findFirstOrThrow());
  const pack = { revisionId: revision.id, builtOn: new Date("2024-01-10") };
  await expect(asSystem((tx) => tx.pack.create({ data: { ...pack, serial: "not a serial" } }))).rejects.toThrow(
    /Pack_serial/,
  );
  await expect(
    asSystem((tx) =>
      tx.pack.create({ data: { ...pack, serial: "QP240200999", dispatchedOn: new Date("2023-01-01") } }),
    ),
  ).rejects.toThrow(/Pack_dispatch_after_build/);
  await expect(asSystem((tx) => tx.revision.delete({ where: { id: revision.id } }))).rejects.toThrow(
    /foreign key|violates RESTRICT/i,
  );
});

test("a demo account cannot exist in a live database, whoever asks for it", async () => {
  const account = {
    email: "a@demo.example",
    name: "A",
    role: "manager" as const,
    dealerId: null,
    password: "long enough password",
  };
  await expect(openAccountAsSystem({ ...account, isDemo: true })).rejects.toThrow(/demo account needs a demo database/);
  const id = await openAccountAsSystem({ ...account, isDemo: false });
  await expect(asSystem((tx) => tx.user.update({ where: { id }, data: { isDemo: true } }))).rejects.toThrow(
    /demo database/,
  );
});

test("a live database does not become a demo one", async () => {
  await expect(asSystem((tx) => tx.instance.update({ where: { id: 1 }, data: { mode: "demo" } }))).rejects.toThrow(
    /chosen once/,
  );
  await expect(asSystem((tx) => tx.instance.deleteMany())).rejects.toThrow(/chosen once/);
});

test("an account needs a long password, a dealer's one a dealer, and others none", async () => {
  const account = { email: "b@live.example", name: "B", dealerId: null, isDemo: false };
  await expect(openAccountAsSystem({ ...account, role: "technician", password: "short" })).rejects.toThrow(
    /15 characters/,
  );
  await expect(openAccountAsSystem({ ...account, role: "dealer", password: "long enough password" })).rejects.toThrow(
    /User_dealer/,
  );
  expect(fleet.berlin.dealerId).not.toBeNull();
});

test("a folder in use is refused with the way out, and a dead owner's lock is taken over", () => {
  const folder = mkdtempSync(path.join(os.tmpdir(), "lock-"));
  const unlock = lockFolder(folder);
  expect(() => lockFolder(folder)).toThrow(FolderInUseError);
  expect(() => lockFolder(folder)).toThrow(/delete .*in-use-by/);
  unlock();
  // No process has this number: Linux ends at 2^22, others earlier.
  writeFileSync(path.join(folder, "in-use-by"), `9999999 ${os.hostname()}\n`);
  const again = lockFolder(folder);
  expect(readFileSync(path.join(folder, "in-use-by"), "utf8")).toContain(String(process.pid));
  again();
  rmSync(folder, { recursive: true });
});

test("the embedded folder of this very test is locked while it is open", async () => {
  const target = databaseTarget();
  if (target.kind !== "embedded") return;
  await asSystem((tx) => tx.pack.count());
  expect(() => lockFolder(target.folder)).toThrow(FolderInUseError);
});
