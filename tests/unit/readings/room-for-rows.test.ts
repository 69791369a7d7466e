import { expect, test } from "vitest";
import { mostValues } from "@/lib/readings/body-part";
import { expectedRows } from "@/lib/readings/body-reader";
import { planBody } from "@/lib/readings/plan-body";
import { packHeaders, packRows, tableText } from "@/tests/support/pack-file";

const head = new TextEncoder().encode(tableText(packHeaders(20), packRows(20, 400)));
const plan = planBody(head, false, undefined);
if (plan.kind === "unusable") throw new Error(plan.sentence);
const columns = plan.plan.columns.length;

test("room is made for the rows a file of this size should hold, and some more", () => {
  const rows = expectedRows(plan, head, 100 * head.length) ?? 0;
  expect(rows).toBeGreaterThan(40_000);
  expect(rows).toBeLessThan(50_000);
});

// Ten million rows of thirty columns took 2.5 GB to be refused: every column was moved at the last row that is taken.
test("a file far beyond the limit gets room for the last rows that are taken and the chunk they come with", () => {
  const rows = expectedRows(plan, head, 1e11) ?? 0;
  const chunk = (1 << 18) / (head.length / 400);
  expect(rows - mostValues / columns).toBeGreaterThan(chunk);
  expect(rows * columns).toBeLessThan(1.05 * mostValues);
});
