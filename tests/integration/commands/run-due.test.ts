import { spawnSync } from "node:child_process";
import path from "node:path";
import { expect, test } from "vitest";
import { closeDatabase } from "@/lib/data/database";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

test("one round of what belongs to time runs as a command, prints one document and ends", async () => {
  // An embedded folder has one owner: the command, once this process has let go of it.
  await closeDatabase();
  const command = ["--conditions=react-server", "--import", "tsx", path.resolve("app/_commands/run-due.ts")];
  const result = spawnSync(process.execPath, command, {
    encoding: "utf8",
    env: { ...process.env, NODE_ENV: "production" },
  });
  expect(result.status, result.stderr).toBe(0);
  expect(JSON.parse(result.stdout)).toEqual({
    moved: 0,
    refused: 0,
    endingSoon: 0,
    draftsDeleted: 0,
    contactsEnded: 0,
    awaitedBack: 0,
    unitsGivenUp: 0,
    quarantineAlarms: 0,
    measurementAlarms: 0,
    calls: 0,
    pagerSent: 0,
    pagerFailed: 0,
    signalsRaised: 0,
    stopsTold: 0,
    turnsPassed: 0,
    dealersReminded: 0,
  });
});
