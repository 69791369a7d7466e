import { beforeAll, expect, test } from "vitest";
import { asActor, asSystem, type Transaction } from "@/lib/data/database";
import { lodgeReturn } from "@/lib/data/lodge-return";
import { lookUpPack } from "@/lib/data/packs";
import { listReturnQueue } from "@/lib/data/return-queue";
import { countStatements } from "@/tests/support/count-statements";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

let fleet: SmallFleet;

beforeAll(async () => {
  fleet = await createSmallFleet();
  const answer = await lodgeReturn(fleet.berlin, filledForm(fleet.soldInBerlin));
  if (!answer.ok) throw new Error(JSON.stringify(answer));
});

test("a transaction of a person is four statements with the one it is opened for", async () => {
  expect(await countStatements(() => asActor(fleet.bench, (tx) => tx.return.count()))).toBe(4);
});

test("no query of a transaction is compiled, which takes a server longer than the query", async () => {
  const compiled = (tx: Transaction) => tx.$queryRaw`SHOW jit`;
  expect([await asActor(fleet.berlin, compiled), await asSystem(compiled)]).toEqual([
    [{ jit: "off" }],
    [{ jit: "off" }],
  ]);
});

test("the queue is at most 14 statements, however many returns it shows", async () => {
  expect(await countStatements(() => listReturnQueue(fleet.bench, "open", 1))).toBeLessThanOrEqual(14);
});

test("a look-up of a serial is at most 37 statements", async () => {
  expect(await countStatements(() => lookUpPack(fleet.berlin, fleet.soldInBerlin))).toBeLessThanOrEqual(37);
});
