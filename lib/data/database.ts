import "server-only";
import type { Actor } from "@/lib/access/actor";
import { type Prisma, PrismaClient } from "@/prisma/generated/client";
import { databaseTarget } from "./database-target";
import { readEnvironment } from "./env";
import { type OpenDatabase, openDatabase } from "./open-database";

/** The client inside one transaction: the only thing the functions of lib/data query. */
export type Transaction = Prisma.TransactionClient;

interface Connection {
  readonly client: PrismaClient;
  readonly database: OpenDatabase;
}

const heldKey = Symbol.for("returns-bench.database");

/** The bundler may load this module more than once in a process; the database must be opened once. */
const processWide = globalThis as typeof globalThis & { [heldKey]?: Promise<Connection> | undefined };

const transactionLimits = { maxWait: 20_000, timeout: 60_000 };

/** Opened at the first query, so that a build or an import opens nothing. */
async function connect(): Promise<Connection> {
  const database = await openDatabase(databaseTarget());
  const client = new PrismaClient({ adapter: database.adapter });
  await refuseWrongMode(client, database);
  return { client, database };
}

/** A demo database answers in demo mode only, so that a demo account is never a way into anything else. */
async function refuseWrongMode(client: PrismaClient, database: OpenDatabase): Promise<void> {
  const demo = readEnvironment().demo;
  const instance = await client.instance.findUnique({ where: { id: 1 } });
  if ((instance?.mode === "demo") === demo) return;
  await client.$disconnect();
  await database.close();
  throw new Error(
    demo
      ? "Demo mode needs a demo database. Start it with: npm run demo"
      : "This is a demo database: it works in demo mode only. Use another DATA_DIR or DATABASE_URL.",
  );
}

export async function getClient(): Promise<PrismaClient> {
  processWide[heldKey] ??= connect().catch((error: unknown) => {
    processWide[heldKey] = undefined;
    throw error;
  });
  return (await processWide[heldKey]).client;
}

/** Gives the embedded folder back. For commands and tests; the server holds it until it ends. */
export async function closeDatabase(): Promise<void> {
  const connection = await processWide[heldKey];
  processWide[heldKey] = undefined;
  if (connection === undefined) return;
  await connection.client.$disconnect();
  await connection.database.close();
}

/**
 * Runs one transaction as this person: the database role that owns nothing and bypasses nothing, with the dealer's id
 * set for this transaction only. Never query outside `tx` meanwhile: the embedded database has one connection.
 *
 * Nothing is compiled: the planner takes a policy that asks another table for dear, and where it does a server compiles, for a
 * quarter of a second, a query that then reads a handful of rows or none.
 */
export async function asActor<Result>(actor: Actor, run: (tx: Transaction) => Promise<Result>): Promise<Result> {
  const client = await getClient();
  return client.$transaction(async (tx) => {
    await narrowTo(tx, actor);
    return run(tx);
  }, transactionLimits);
}

/** From here to its end the transaction is this person's, as if `asActor` had opened it: nothing of the program's sight is left. */
export async function narrowTo(tx: Transaction, actor: Actor): Promise<void> {
  await tx.$queryRaw`SELECT set_config('role', 'bench_actor', true), set_config('bench.role', ${actor.role}, true),
    set_config('bench.dealer_id', ${actor.dealerId ?? ""}, true), set_config('jit', 'off', true)`;
}

/**
 * Runs one transaction as the program itself, which sees every dealer's rows. For what no person may see whole but an
 * answer needs (the sale of another dealer, for the cover), for sign-in, and for set-up. Say why at each call.
 */
export async function asSystem<Result>(run: (tx: Transaction) => Promise<Result>): Promise<Result> {
  const client = await getClient();
  return client.$transaction(async (tx) => {
    await tx.$queryRaw`SELECT set_config('bench.role', 'system', true), set_config('jit', 'off', true)`;
    return run(tx);
  }, transactionLimits);
}
