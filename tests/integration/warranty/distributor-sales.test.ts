import { beforeAll, expect, test } from "vitest";
import { asActor, asSystem } from "@/lib/data/database";
import { lookUpPack } from "@/lib/data/packs/packs";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { readDealerReturn } from "@/lib/data/returns/returns";
import { importDistributorSales, listDistributorImports } from "@/lib/data/warranty/distributor-sales";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";
import { expectWrittenOnce } from "@/tests/support/written-once";

withTestDatabase();

const now = new Date("2026-10-05T09:00:00Z");
let fleet: SmallFleet;

beforeAll(async () => {
  fleet = await createSmallFleet();
});

const sales = (table: string, averageShelfDays = 60) => ({ distributor: "Zweirad-Import", averageShelfDays, table });
const cover = async (serial: string) => {
  const found = await lookUpPack(fleet.berlin, serial);
  return found.kind === "found" ? found.pack.cover : null;
};

test("a distributor's sale feeds the estimate between a dealer's word and the dispatch, and a sale known outranks it", async () => {
  const before = await cover(fleet.unsold);
  expect(before?.evidence).toBe("dispatch-plus-shelf-limit");
  const table = `serial,sold on\n${fleet.unsold},2026-03-01\n${fleet.soldInBerlin},2026-03-01\n`;
  expect(await importDistributorSales(fleet.manager, sales(table), now)).toEqual({ ok: true, packs: 2 });
  // 60 days after 1 March 2026, counted on the calendar: 30 April.
  expect(await cover(fleet.unsold)).toMatchObject({ evidence: "distributor-sale", startsOn: "2026-04-30" });
  expect((await cover(fleet.soldInBerlin))?.startsOn).toBe("2025-11-03");
  const lodged = await lodgeReturn(fleet.berlin, filledForm(fleet.unsold), now);
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  expect((await readDealerReturn(fleet.berlin, lodged.reference))?.cover).toMatchObject({
    outcome: "in-cover",
    evidence: "distributor-sale",
  });
  // A later import corrects, and the earlier row stays as it was.
  const later = new Date(now.getTime() + 60_000);
  const corrected = sales(`serial;sold on\n${fleet.unsold};2026-02-01`, 10);
  expect(await importDistributorSales(fleet.manager, corrected, later)).toEqual({ ok: true, packs: 1 });
  expect((await cover(fleet.unsold))?.startsOn).toBe("2026-02-11");
  await expectWrittenOnce(
    () => asSystem((tx) => tx.distributorSale.findMany({ orderBy: { id: "asc" } })),
    () => asSystem((tx) => tx.distributorSale.updateMany({ data: { averageShelfDays: 1 } })),
  );
});

test("one line that cannot be so refuses the whole table, by its number; only a manager brings sales in", async () => {
  const count = () => asSystem((tx) => tx.distributorSale.count());
  const before = await count();
  const table = `serial,sold on\n${fleet.soldInSydney},2026-03-01\n${fleet.unsold},2019-03-01\n`;
  expect(await importDistributorSales(fleet.manager, sales(table), now)).toMatchObject({
    ok: false,
    problems: [{ line: 3 }],
    sentence: expect.stringMatching(/^Line 3: The pack was built on/),
  });
  for (const actor of [
    fleet.berlin,
    fleet.bench,
    fleet.lead,
    fleet.finance,
    fleet.safetyOfficer,
    fleet.administrator,
  ]) {
    expect(await importDistributorSales(actor, sales(table), now), actor.role).toMatchObject({ ok: false });
    expect(await listDistributorImports(actor), actor.role).toBeNull();
  }
  expect(await asActor(fleet.berlin, (tx) => tx.distributorSale.count())).toBe(0);
  expect(await count()).toBe(before);
  expect((await listDistributorImports(fleet.manager))?.map(({ packs }) => packs)).toEqual([1, 2]);
});
