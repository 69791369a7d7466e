import { beforeAll, expect, test } from "vitest";
import { asActor, asSystem, type Transaction } from "@/lib/data/database";
import { lookUpPack } from "@/lib/data/packs/packs";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { listReturnQueue } from "@/lib/data/returns/return-queue";
import { endedStatuses, openStatuses, type ReturnStatus, undecidedStatuses } from "@/lib/returns/return-status";
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

test("the queue is one statement within its transaction, however many returns it shows", async () => {
  expect(await countStatements(() => listReturnQueue(fleet.bench, "open", 1))).toBe(4);
});

test("each index of the queue is of the statuses that its list asks for", async () => {
  const rows = await asSystem(
    (tx) => tx.$queryRaw<{ name: string; only: string }[]>`
      SELECT c."relname"::text AS "name", pg_get_expr(i."indpred", i."indrelid") AS "only"
      FROM pg_index i JOIN pg_class c ON c."oid" = i."indexrelid" WHERE c."relname" LIKE 'Return%queue'`,
  );
  const statusesIn = (only: string) => [...only.matchAll(/'([a-z-]+)'/g)].map(([, status]) => status);
  const isDecided = (status: ReturnStatus) => !undecidedStatuses.includes(status);
  expect(Object.fromEntries(rows.map(({ name, only }) => [name, statusesIn(only)]))).toEqual({
    Return_undecided_queue: undecidedStatuses,
    Return_turn_queue: openStatuses,
    Return_due_queue: openStatuses,
    Return_decided_queue: openStatuses.filter(isDecided),
    Return_ended_queue: endedStatuses,
  });
});

test("a look-up of a serial is at most 16 statements, whatever is known of the pack", async () => {
  expect(await countStatements(() => lookUpPack(fleet.berlin, fleet.soldInBerlin))).toBeLessThanOrEqual(16);
});
