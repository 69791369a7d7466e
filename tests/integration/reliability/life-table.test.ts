import { beforeAll, expect, test } from "vitest";
import { mintActor } from "@/lib/access/actor";
import { asActor, asSystem } from "@/lib/data/database";
import { readLifeTable } from "@/lib/data/life-cells";
import { readPackHistories } from "@/lib/data/pack-histories";
import { readPolicies } from "@/lib/data/policy-columns";
import { comparisons, strata } from "@/lib/reliability/compare-by";
import { type LifeTable, sumPacks } from "@/lib/reliability/life-cell";
import { tallyLives } from "@/lib/reliability/tally-lives";
import { calendarDate } from "@/lib/warranty/calendar";
import { madeFleetDataDate, makeFleet } from "@/tests/support/made-fleet";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

const manager = mintActor({ userId: "m", name: "M", role: "manager", dealerId: null });
const packs = 1500;

beforeAll(async () => {
  await asSystem((tx) => makeFleet(tx, packs));
});

function sorted({ cells, excluded }: LifeTable) {
  return {
    cells: cells.map((cell) => JSON.stringify(ordered(cell))).sort(),
    excluded: excluded.map((cell) => JSON.stringify(ordered(cell))).sort(),
  };
}

function ordered(cell: object) {
  return Object.fromEntries(Object.entries(cell).sort(([a], [b]) => (a < b ? -1 : 1)));
}

test("the made fleet has every kind of life and every kind of contradiction that a database can hold", async () => {
  const table = await asActor(manager, async (tx) =>
    readLifeTable(tx, { dataDate: madeFleetDataDate, by: "revision", within: "model" }, await readPolicies(tx)),
  );
  const endings = new Set(table.cells.map(({ status }) => status));
  expect(endings).toEqual(new Set(["failed", "undecided", "replaced", "cover-ended", "running", "returned"]));
  const reasons = new Set(table.excluded.map(({ reason }) => reason));
  expect(reasons).toEqual(
    new Set([
      "unsold",
      "returned-without-sale-date",
      "return-before-sale",
      "not-yet-in-use",
      "ended-before-observation",
    ]),
  );
  expect(sumPacks(table.cells.filter(({ line }) => line === "confirmed")) + sumPacks(table.excluded)).toBe(packs);
});

test.each([
  ...comparisons.map((by) => ({ by, within: "model" as const, on: madeFleetDataDate })),
  ...strata.map((within) => ({ by: "revision" as const, within, on: calendarDate("2025-09-17") })),
  { by: "cell-lot" as const, within: "model-and-country" as const, on: madeFleetDataDate },
])("one aggregate counts the same lives as the packs one by one: %o", async ({ by, within, on: dataDate }) => {
  const question = { dataDate, by, within };
  const [counted, oneByOne] = await asActor(manager, async (tx) => {
    const policies = await readPolicies(tx);
    return [
      await readLifeTable(tx, question, policies),
      tallyLives(await readPackHistories(tx, question, policies)),
    ] as const;
  });
  expect(sorted(counted)).toEqual(sorted(oneByOne));
});
