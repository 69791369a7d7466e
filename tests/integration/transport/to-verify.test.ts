import { expect, test } from "vitest";
import { asSystem } from "@/lib/data/database";
import { listToVerify } from "@/lib/data/to-verify";
import { incidentChecklist } from "@/lib/safety/incident-checklist";
import { reportingClocks } from "@/lib/safety/reporting-clocks";
import { usedBatteryStatement } from "@/lib/transport/used-battery-statement";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

const marked = (value: unknown) => JSON.stringify(value).split(/"from-memory"|"read"/).length - 1;

test("every marked row of every table is told, with its table and its version", async () => {
  const told = await listToVerify();
  const [rules, holidays] = await asSystem(async (tx) => [
    await tx.transportRuleVersion.findMany({ where: { state: "approved" } }),
    await tx.holidayCalendar.findMany({ where: { state: "approved" } }),
  ]);
  const count = (table: RegExp) =>
    told.filter((one) => table.test(one.table) && /^(from memory|read in)/.test(one.mark)).length;
  expect(marked(rules)).toBeGreaterThan(0);
  expect(marked(holidays)).toBeGreaterThan(0);
  expect(count(/^Transport rules/)).toBe(marked(rules));
  expect(count(/^Public holidays/)).toBe(marked(holidays));
  expect(count(/^Clocks/)).toBe(marked(reportingClocks));
  expect(count(/^What is done once/)).toBe(marked(incidentChecklist));
  expect(count(/^Used battery/)).toBe(marked(usedBatteryStatement("DE")));
  expect(
    told.every(({ table, version, sentence, mark }) => [table, version, sentence, mark].every((one) => one !== "")),
  ).toBe(true);
});
