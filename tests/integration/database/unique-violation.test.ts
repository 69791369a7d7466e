import { afterAll, expect, test } from "vitest";
import { asSystem, type Transaction } from "@/lib/data/database";
import { breaksUnique, type UniqueName, uniqueNames } from "@/lib/data/unique-violation";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

/** What a partial index asks of a row before it counts. */
const asked: Partial<Record<UniqueName, Readonly<Record<string, unknown>>>> = {
  CostAssumption_one_approved_a_day: { state: "approved" },
  HolidayCalendar_one_approved_a_day: { state: "approved" },
  LegalDutyVersion_one_approved_a_day: { state: "approved" },
  ReturnSetting_one_approved_a_day: { state: "approved" },
  ThresholdVersion_one_approved_a_day: { state: "approved" },
  TransportRuleVersion_one_approved_a_day: { state: "approved" },
  WarrantyPolicy_one_approved_a_day: { state: "approved" },
  IssueProposal_one_end_at_a_time: { state: "proposed" },
  TestPlan_one_proposal_a_scope: { state: "proposed" },
  ThresholdVersion_one_proposal_a_model: { state: "proposed" },
  Return_one_open_per_pack: { status: "sent-in" },
  SettlementLine_once_per_return: { state: "claimed", reversesLineId: null },
  SettlementLine_one_reversal: { state: "claimed" },
  Track_one_remedy_per_return: { track: "remedy" },
};

interface Column {
  readonly name: string;
  readonly type: string;
  readonly isNeeded: boolean;
  readonly isUnique: boolean;
}

interface Index {
  readonly table: string;
  readonly columns: readonly string[];
}

const provoked: unknown[] = [];

test.each(uniqueNames)("%s is recognised by its own name and taken for no other", async (name) => {
  const error: unknown = await asSystem(async (tx) => {
    const index = await readIndex(tx, name);
    await leaveOnlyUnique(tx, index.table, name);
    const columns = await readColumns(tx, index.table);
    const create = creator(tx, index.table);
    await create(rowOf(columns, index, asked[name] ?? {}, 1));
    await create(rowOf(columns, index, asked[name] ?? {}, 2));
  }).catch((caught: unknown) => caught);
  provoked.push(error);
  expect(
    uniqueNames.filter((one) => breaksUnique(error, one)),
    String(error),
  ).toEqual([name]);
});

test("an error of another kind breaks none of them, whatever its words", async () => {
  expect(breaksUnique(new Error("User_email_key"), ...uniqueNames)).toBe(false);
  const missing: unknown = await asSystem((tx) =>
    tx.instrument.update({ where: { code: "Instrument_code_key" }, data: { code: "x" } }),
  ).catch((caught: unknown) => caught);
  expect(breaksUnique(missing, ...uniqueNames)).toBe(false);
});

afterAll(() => expect(provoked).toHaveLength(uniqueNames.length));

async function readIndex(tx: Transaction, name: UniqueName): Promise<Index> {
  const [row] = await tx.$queryRaw<Index[]>`
    SELECT t.relname AS "table", array_agg(a.attname::text) AS columns
    FROM pg_index i JOIN pg_class x ON x.oid = i.indexrelid JOIN pg_class t ON t.oid = i.indrelid
      JOIN pg_attribute a ON a.attrelid = t.oid AND a.attnum = ANY (i.indkey)
    WHERE x.relname = ${name} AND i.indisunique GROUP BY t.relname`;
  if (row === undefined) throw new Error(`There is no unique index ${name}`);
  return row;
}

/** Within this transaction alone, which ends in an error: the one index stays, everything else that could refuse a row goes. */
async function leaveOnlyUnique(tx: Transaction, table: string, name: UniqueName): Promise<void> {
  const constraints = await tx.$queryRaw<{ name: string }[]>`
    SELECT conname::text AS name FROM pg_constraint
    WHERE conrelid = ${`"${table}"`}::regclass AND contype IN ('c', 'f') AND conname <> ${name}`;
  for (const one of constraints) await tx.$executeRawUnsafe(`ALTER TABLE "${table}" DROP CONSTRAINT "${one.name}"`);
  await tx.$executeRawUnsafe(`ALTER TABLE "${table}" DISABLE TRIGGER USER, DISABLE ROW LEVEL SECURITY`);
}

async function readColumns(tx: Transaction, table: string): Promise<Column[]> {
  return tx.$queryRaw<Column[]>`
    SELECT c.column_name::text AS name, c.udt_name::text AS type,
      c.is_nullable = 'NO' AND c.column_default IS NULL AS "isNeeded",
      EXISTS (SELECT 1 FROM pg_index i JOIN pg_attribute a ON a.attrelid = i.indrelid AND a.attnum = ANY (i.indkey)
        WHERE i.indrelid = ${`"${table}"`}::regclass AND i.indisunique AND a.attname = c.column_name) AS "isUnique"
    FROM information_schema.columns c WHERE c.table_schema = 'public' AND c.table_name = ${table}`;
}

/** A row that agrees with its twin in the columns of the index, and in no other column that has to be unique. */
function rowOf(columns: readonly Column[], index: Index, given: Readonly<Record<string, unknown>>, twin: number) {
  const chosen = columns.filter(({ name, isNeeded }) => isNeeded || index.columns.includes(name));
  return {
    ...Object.fromEntries(
      chosen.map(({ name, type, isUnique }) => {
        const differs = isUnique && !index.columns.includes(name);
        return [name, sample(type, differs ? twin : 0)];
      }),
    ),
    ...given,
  };
}

function sample(type: string, number: number): unknown {
  if (type.startsWith("_")) return [];
  switch (type) {
    case "uuid":
      return `00000000-0000-4000-8000-00000000000${number}`;
    case "text":
    case "varchar":
      return `text ${number}`;
    case "int2":
    case "int4":
    case "int8":
    case "float8":
    case "numeric":
      return number + 1;
    case "bool":
      return false;
    case "date":
    case "timestamp":
    case "timestamptz":
      return new Date(Date.UTC(2026, 0, 1 + number));
    case "jsonb":
      return {};
    default:
      throw new Error(`No sample of a column of type ${type}`);
  }
}

type Create = (data: Readonly<Record<string, unknown>>) => Promise<unknown>;

/** The client's own way to write a row of a table known only by its name. */
function creator(tx: Transaction, table: string): Create {
  const model: unknown = Reflect.get(tx, table.charAt(0).toLowerCase() + table.slice(1));
  const createMany: unknown =
    typeof model === "object" && model !== null ? Reflect.get(model, "createMany") : undefined;
  if (typeof createMany !== "function") throw new Error(`The client has no table ${table}`);
  return async (data) => await Reflect.apply(createMany, model, [{ data: [data] }]);
}
