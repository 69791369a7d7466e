import { beforeAll, expect, test } from "vitest";
import { asActor, asSystem } from "@/lib/data/database";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { listDealerReturns, readDealerReturn } from "@/lib/data/returns/returns";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

let fleet: SmallFleet;
let berlinReference = "";

beforeAll(async () => {
  fleet = await createSmallFleet();
  const answer = await lodgeReturn(fleet.berlin, filledForm(fleet.soldInBerlin, { dangerSigns: ["swollen"] }));
  if (!answer.ok) throw new Error(JSON.stringify(answer));
  berlinReference = answer.reference;
});

test("another dealer sees no return even where the WHERE is left out", async () => {
  const seen = await asActor(fleet.sydney, async (tx) => [
    await tx.return.count(),
    await tx.returnMove.count(),
    await tx.safetyFlag.count(),
  ]);
  expect(seen).toEqual([0, 0, 0]);
});

test("finance sees cases and no build record or readings; the administrator sees which dealers there are and no case", async () => {
  const seen = ({ finance, administrator }: SmallFleet) =>
    [finance, administrator].map((actor) =>
      asActor(actor, async (tx) => ({
        returns: await tx.return.count(),
        flags: await tx.safetyFlag.count(),
        builds: await tx.buildRecord.count(),
        lots: await tx.lot.count(),
        issues: await tx.knownIssue.count(),
        dealers: await tx.dealer.count(),
        sales: await tx.sale.count(),
      })),
    );
  const hidden = { builds: 0, lots: 0, issues: 0 };
  expect(await Promise.all(seen(fleet))).toEqual([
    { ...hidden, returns: 1, flags: 1, dealers: 2, sales: 11 },
    { ...hidden, returns: 0, flags: 0, dealers: 2, sales: 0 },
  ]);
});

test("the dealer who lodged it sees it, and so do the maker's people", async () => {
  const counts = await Promise.all(
    [fleet.berlin, fleet.bench, fleet.manager].map((actor) => asActor(actor, (tx) => tx.return.count())),
  );
  expect(counts).toEqual([1, 1, 1]);
});

test("another dealer's reference is not found, the own one is", async () => {
  expect(await readDealerReturn(fleet.sydney, berlinReference)).toBeNull();
  expect((await readDealerReturn(fleet.berlin, berlinReference))?.reference).toBe(berlinReference);
  expect(await listDealerReturns(fleet.sydney)).toEqual([]);
});

test("a dealer can write nothing in another dealer's name", async () => {
  const berlinId = fleet.berlin.dealerId ?? "";
  const pack = await asSystem((tx) => tx.pack.findFirstOrThrow({ select: { id: true } }));
  await expect(
    asActor(fleet.sydney, (tx) =>
      tx.safetyFlag.create({
        data: {
          packId: pack.id,
          dealerId: berlinId,
          signs: ["hot"],
          raisedByUserId: "x",
          raisedByName: "x",
          raisedAt: new Date(),
        },
      }),
    ),
  ).rejects.toThrow(/row-level security/);
  const changed = await asActor(fleet.sydney, (tx) => tx.return.updateMany({ data: { status: "withdrawn" } }));
  expect(changed.count).toBe(0);
});

test("sales of another dealer, build records, lots and known issues are hidden from a dealer", async () => {
  const sydney = await asActor(fleet.sydney, async (tx) => ({
    sales: await tx.sale.count(),
    builds: await tx.buildRecord.count(),
    lots: await tx.lot.count(),
    issues: await tx.knownIssue.count(),
    dealers: await tx.dealer.count(),
    packs: await tx.pack.count(),
  }));
  expect(sydney).toEqual({ sales: 1, builds: 0, lots: 0, issues: 0, dealers: 1, packs: 12 });
});

test("nobody reads accounts or sessions through a person's transaction", async () => {
  for (const actor of [fleet.berlin, fleet.bench, fleet.manager]) {
    await expect(asActor(actor, (tx) => tx.user.findMany())).rejects.toThrow(/permission denied/);
    await expect(asActor(actor, (tx) => tx.session.findMany())).rejects.toThrow(/permission denied/);
  }
});

test("the role and the dealer end with the transaction", async () => {
  await asActor(fleet.sydney, (tx) => tx.return.count());
  expect(await asSystem((tx) => tx.return.count())).toBe(1);
  const nobody = await asSystem(async (tx) => {
    await tx.$queryRaw`SELECT set_config('role', 'bench_actor', true), set_config('bench.role', '', true)`;
    return tx.return.count();
  });
  expect(nobody).toBe(0);
});
