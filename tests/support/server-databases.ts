import { Client, type QueryResultRow } from "pg";

/** Address of the server's database that the tests were given; empty where they run on embedded ones. */
export const testServer = process.env.TEST_DATABASE_URL ?? "";

/** The name of a database beside the one that was given: `bench_test` and "live" are `bench_test_live`. */
export function databaseBeside(suffix: string): string {
  return `${new URL(testServer).pathname.slice(1)}_${suffix}`;
}

/** Where another database of the same server is reached. */
export function addressOf(database: string): string {
  const address = new URL(testServer);
  address.pathname = `/${database}`;
  return address.href;
}

/** Runs one statement that makes or drops a database; none may stand in a transaction. */
export async function tellServer(statement: string): Promise<QueryResultRow[]> {
  const client = new Client({ connectionString: testServer });
  await client.connect();
  try {
    return (await client.query(statement)).rows;
  } finally {
    await client.end();
  }
}

/** Drops every database that tests made beside the given one, those of a run that was broken off too. */
export async function dropAllBeside(): Promise<void> {
  const left = await tellServer(
    `SELECT datname FROM pg_database WHERE starts_with(datname, current_database() || '_')`,
  );
  for (const { datname } of left) await tellServer(`DROP DATABASE "${datname}" WITH (FORCE)`);
}
