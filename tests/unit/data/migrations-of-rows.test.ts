import { expect, test } from "vitest";
import { readMigrations } from "@/prisma/migrations-on-disk";

/**
 * A server's owner of the tables is bound by their policies (FORCE ROW LEVEL SECURITY): a migration that changes rows and does not say
 * who asks changes none there, while the embedded database, where the owner is the superuser, shows nothing of it. Before this day
 * tables had no rows anywhere when these ran.
 */
const since = "20261130120000";
const changesRows = /^\s*(?:UPDATE|DELETE FROM|INSERT INTO)\s+"/m;
const saysWhoAsks = /set_config\('bench\.role', 'system'/;

test("a migration that changes rows says who asks", () => {
  const silent = readMigrations()
    .migrationDirectories.filter(({ path }) => path >= since)
    .filter(({ migrationFile: { content } }) => "value" in content && changesRows.test(content.value))
    .filter(({ migrationFile: { content } }) => !("value" in content && saysWhoAsks.test(content.value)))
    .map(({ path }) => path);
  expect(silent).toEqual([]);
});
