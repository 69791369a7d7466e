import { setImmediate as nextTurn } from "node:timers/promises";
import type { SqlDriverAdapter, SqlQuery, SqlResultSet, Transaction } from "@prisma/driver-adapter-utils";
import { expect, test } from "vitest";
import { askingOneAtATime } from "@/lib/data/one-query-at-a-time";

const empty: SqlResultSet = { columnNames: [], columnTypes: [], rows: [] };
const query = (sql: string): SqlQuery => ({ sql, args: [], argTypes: [] });

/** An adapter over one connection that notes what is asked, and whether anything was asked before the last answer came. */
function oneConnection() {
  const asked: string[] = [];
  let [running, most] = [0, 0];
  const ask = async ({ sql }: SqlQuery) => {
    asked.push(sql);
    running += 1;
    most = Math.max(most, running);
    await nextTurn();
    running -= 1;
    if (sql === "wrong") throw new Error("wrong");
  };
  const queries = {
    provider: "postgres" as const,
    adapterName: "one connection",
    queryRaw: async (asking: SqlQuery) => {
      await ask(asking);
      return empty;
    },
    executeRaw: async (asking: SqlQuery) => {
      await ask(asking);
      return 0;
    },
  };
  const nothing = async () => {};
  const startTransaction = async (): Promise<Transaction> => {
    return { ...queries, options: { usePhantomQuery: false }, commit: nothing, rollback: nothing };
  };
  const adapter: SqlDriverAdapter = { ...queries, executeScript: nothing, dispose: nothing, startTransaction };
  return { adapter, asked, most: () => most };
}

test("what is asked at once inside a transaction is asked in turn, also after a query that failed", async () => {
  const { adapter, asked, most } = oneConnection();
  const transaction = await askingOneAtATime(adapter).startTransaction();
  const answers = await Promise.allSettled([
    transaction.queryRaw(query("first")),
    transaction.queryRaw(query("wrong")),
    transaction.executeRaw(query("third")),
  ]);
  expect(answers.map(({ status }) => status)).toEqual(["fulfilled", "rejected", "fulfilled"]);
  expect(asked).toEqual(["first", "wrong", "third"]);
  expect(most()).toBe(1);
});
