import type { SqlDriverAdapter, Transaction } from "@prisma/driver-adapter-utils";

/**
 * Makes every transaction of an adapter ask its one connection one thing after another. The client reads several relations of a
 * row at once, also inside a transaction, where there is only one connection; the driver queues such queries for now, warns,
 * and will refuse them (prisma/orm issue 29646 and pull request 29979, open with the adapter 7.10.0; node-postgres 3603).
 */
export function askingOneAtATime(adapter: SqlDriverAdapter): SqlDriverAdapter {
  const start = adapter.startTransaction.bind(adapter);
  adapter.startTransaction = async (level) => inTurn(await start(level));
  return adapter;
}

function inTurn(transaction: Transaction): Transaction {
  let last: Promise<unknown> = Promise.resolve();
  const after = <Answer>(ask: () => Promise<Answer>): Promise<Answer> => {
    const answer = last.then(ask);
    // A query that failed is its own asker's to hear of; the next one has its turn all the same.
    last = answer.catch(() => undefined);
    return answer;
  };
  const queryRaw = transaction.queryRaw.bind(transaction);
  const executeRaw = transaction.executeRaw.bind(transaction);
  transaction.queryRaw = (query) => after(() => queryRaw(query));
  transaction.executeRaw = (query) => after(() => executeRaw(query));
  return transaction;
}
