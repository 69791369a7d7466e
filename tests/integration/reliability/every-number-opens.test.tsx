import { renderToStaticMarkup } from "react-dom/server";
import { beforeAll, expect, test } from "vitest";
import { DataTable } from "@/app/_components/data-table";
import { BesideTable } from "@/app/(manager)/reliability/beside-table";
import { DelayTable } from "@/app/(manager)/reliability/delay-table";
import { ForecastTable } from "@/app/(manager)/reliability/forecast/forecast-table";
import { GroupParts } from "@/app/(manager)/reliability/group/group-parts";
import { LongUndecidedPart } from "@/app/(manager)/reliability/long-undecided-part";
import { ModelPart } from "@/app/(manager)/reliability/model-part";
import { monthCellAddressSchema } from "@/app/(manager)/reliability/months/month-cell-address";
import { MonthTable } from "@/app/(manager)/reliability/months/month-table";
import { packListAddressSchema } from "@/app/(manager)/reliability/packs/pack-list-address";
import { RankingPart } from "@/app/(manager)/reliability/ranking-part";
import { ReserveTable } from "@/app/(manager)/reliability/reserve/reserve-table";
import { LongUndecidedSignals } from "@/app/(manager)/reliability/signals/long-undecided-signals";
import { SignalTable } from "@/app/(manager)/reliability/signals/signal-table";
import { mintActor } from "@/lib/access/actor";
import { asSystem, type Transaction } from "@/lib/data/database";
import { readForecast } from "@/lib/data/reliability/failure-forecasts";
import { readGroupPage } from "@/lib/data/reliability/group-page";
import { listPacks } from "@/lib/data/reliability/list-packs";
import { listMonthPacks, readMonthTriangle } from "@/lib/data/reliability/month-triangle";
import { readSignals } from "@/lib/data/reliability/signals";
import { readWatch } from "@/lib/data/reliability/watch";
import { countComeBack } from "@/lib/reliability/beside-forecast";
import type { CompareBy } from "@/lib/reliability/compare-by";
import { madeFleetDataDate as dataDate, makeFleet } from "@/tests/support/made-fleet";
import { numbersInTables } from "@/tests/support/numbers-in-tables";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

const manager = mintActor({ userId: "m", name: "M", role: "manager", dealerId: null });

beforeAll(async () => {
  await asSystem(async (tx) => {
    await makeFleet(tx, 4000);
    await slowDealer(tx);
  });
});

/** Forty packs of one dealer came back and were confirmed after 60 days, later than those of any other. */
async function slowDealer(tx: Transaction): Promise<void> {
  await tx.$executeRawUnsafe(`INSERT INTO "Return" ("id", "reference", "packId", "dealerId", "clientKey", "clientFingerprint", "status",
      "noticedOn", "toldOn", "lodgedAt", "concern", "symptom", "coverOutcome", "coverPolicyVersion", "dangerSigns", "conditions", "coverBecause")
    SELECT md5('slow' || p."id"::text)::uuid, 'R-S-' || substr(p."serial", 3, 8), p."id", s."dealerId", md5('slow' || p."id"::text)::uuid, 'x', 'closed',
      s."soldOn" + 40, s."soldOn" + 40, (s."soldOn" + 41) + time '10:00', 'It stops.', 'cuts-out', 'cannot-tell-yet', '', '{}', '{}', '{}'
    FROM "Sale" s JOIN "Pack" p ON p."id" = s."packId" JOIN "Dealer" d ON d."id" = s."dealerId"
    WHERE d."code" = 'D5' AND s."soldOn" < '2026-05-01' AND NOT EXISTS (SELECT 1 FROM "Return" r WHERE r."packId" = p."id")
    ORDER BY p."id" LIMIT 40`);
  await tx.$executeRawUnsafe(`INSERT INTO "Decision" ("id", "returnId", "remedy", "confirmedFault", "confirmedFailure", "reason", "seenVersion",
      "decidedByUserId", "decidedByName", "decidedAt")
    SELECT md5('decision' || "id"::text)::uuid, "id", 'repair', 'weak-cell', true, 'As measured.', 1, 'u', 'U', "toldOn" + interval '60 days'
    FROM "Return" WHERE "reference" LIKE 'R-S-%'`);
}

/** Rows of a table that are followed: the others are made by the same columns. */
const FEW = 5;

interface OpenedNumber {
  readonly path: string;
  readonly address: string;
  readonly packs: number;
}

/** Every number of a page that leads to a list of packs, as a reader finds it: the link and what it says. */
function openedNumbers(page: string): OpenedNumber[] {
  const links = page.matchAll(
    /<a [^>]*?href="\/reliability\/((?:months\/)?packs)\?([^"]+)"[^>]*>([0-9,]+)(?: failures?| at risk)?<\/a>/g,
  );
  const found = new Map<string, OpenedNumber>();
  for (const [, path = "", address = "", number = ""] of links) {
    const packs = Number(number.replaceAll(",", ""));
    found.set(`${address} ${packs}`, { path, address: address.replaceAll("&amp;", "&"), packs });
  }
  return [...found.values()];
}

/**
 * Heads of numbers that count no packs or returns, or that open elsewhere, and why. A number under any other head has to open: a new
 * column of a table fails here until it does, or stands here with its reason.
 */
const needsNoWay: readonly (readonly [RegExp, string])[] = [
  [
    /limits|^Failed|^Share failed|^Share by |^Times|drawn in$|^As counted$|^By itself$|^p, |^Adjusted/,
    "an estimate or a test",
  ],
  [/^In 1,000 pack-months$|^Returns for 100|^Drawn at$|^Line at|^With late reports/, "an estimate"],
  [/^To be expected|expected/, "an expected number"],
  [/^Evidence|^A signal from$/, "a threshold"],
  [
    /^Age in days$|^Months$|^Half confirmed|^95 of 100|^Its own$|^Told on$|^Serial$|^Model$|^By$/,
    "an age, a day or a name",
  ],
  [/^(Next|First returns,|Failures to come|Cost|Failures still|Their cost|Apart|Of its cover)/, "foretold"],
  [/naive/, "the division of two numbers that open in the same row"],
  [/^Of its likes$/, "failures of the other groups, which open in their own rows"],
  [/^Failures then$/, "the failures and the undecided returns that open beside them"],
  [/^Packs counted$/, "packs with a day of sale and without, as one reading has it; both open beside the table"],
  [/^Customers watched/, "customers: a pack and those that took its place are one"],
];

/** Of readings under which packs are counted that nobody knows to be so, failures are no list. */
const supposed = /under each reading|with those returns/;

/** Links of one kind, that is to one list narrowed by the same things, are made by the same code: so many of each are followed. */
const FOLLOWED = 3;

/** Of each kind of link the first, the last and the middle one. */
function someOfEachKind(numbers: readonly OpenedNumber[]): OpenedNumber[] {
  const kinds = new Map<string, OpenedNumber[]>();
  for (const number of numbers) {
    const asked = new URLSearchParams(number.address);
    const kind = [number.path, asked.get("by"), asked.get("list"), ...asked.keys()].join(" ");
    kinds.set(kind, [...(kinds.get(kind) ?? []), number]);
  }
  return [...kinds.values()].flatMap((kind) =>
    kind.length <= FOLLOWED ? kind : [0, Math.floor(kind.length / 2), kind.length - 1].flatMap((i) => kind[i] ?? []),
  );
}

async function wrongLists(page: string): Promise<{ checked: number; wrong: string[] }> {
  const numbers = someOfEachKind(openedNumbers(page));
  const wrong: string[] = [];
  for (const { path, address, packs } of numbers) {
    const asked = Object.fromEntries(new URLSearchParams(address));
    const listed = path === "packs" ? await countListed(asked) : await countOfMonth(asked);
    if (listed !== packs) wrong.push(`${address} says ${packs}, lists ${listed}`);
  }
  for (const { caption, head, text, isOpened } of numbersInTables(page)) {
    if (isOpened || supposed.test(caption) || needsNoWay.some(([heads]) => heads.test(head))) continue;
    wrong.push(`${text} under "${head}" of "${caption}" opens to nothing`);
  }
  return { checked: numbers.length, wrong };
}

async function countListed(asked: Record<string, string>): Promise<number | undefined> {
  const { by, group, list, ...filter } = packListAddressSchema.parse(asked);
  const listed = await listPacks(manager, { dataDate, by, within: "model", group, filter }, list, 10_000);
  return listed?.packs.length;
}

async function countOfMonth(asked: Record<string, string>): Promise<number | undefined> {
  return (await listMonthPacks(manager, dataDate, monthCellAddressSchema.parse(asked)))?.length;
}

test("a number in a table that leads nowhere is seen", async () => {
  const columns = [
    { head: "Revision", cell: () => "A" },
    { head: "Packs scrapped", numeric: true, cell: () => "12" },
    { head: "Packs kept", numeric: true, cell: () => "0" },
  ];
  const table = (
    <DataTable entriesWhenNarrow caption="A new table" columns={columns} rows={[1]} rowKey={String} whenEmpty="" />
  );
  const { wrong } = await wrongLists(renderToStaticMarkup(table));
  expect(wrong).toEqual(['12 under "Packs scrapped" of "A new table" opens to nothing']);
});

test.each<[CompareBy, string]>([
  ["revision", "MA-2"],
  ["cell-lot", "C-1"],
  ["country", "DE"],
])("every number on the page of %s %s opens to as many packs", async (by, group) => {
  const page = await readGroupPage(manager, dataDate, { by, group });
  if (page === null) throw new Error(`there is no ${by} ${group}`);
  const { checked, wrong } = await wrongLists(renderToStaticMarkup(<GroupParts page={page} />));
  expect(wrong).toEqual([]);
  expect(checked).toBeGreaterThan(6);
  // Of several models each stands by itself, and they add up.
  expect(page.byModel.map(({ model }) => model)).toEqual(by === "revision" ? [] : expect.arrayContaining(["MA", "MB"]));
  if (page.byModel.length > 0)
    expect(page.byModel.reduce((sum, { line }) => sum + line.failures, 0)).toBe(page.line.failures);
  const { byModel } = page;
  if (byModel.length === 0) return;
  const sumOf = (count: (one: (typeof byModel)[number]) => number) => byModel.reduce((sum, one) => sum + count(one), 0);
  expect(sumOf(({ life }) => life.rate?.count ?? 0)).toBe(page.life.rate?.count);
  expect(sumOf(({ life }) => life.rate?.exposure ?? 0)).toBeCloseTo(page.life.rate?.exposure ?? 0, 9);
  expect(sumOf(({ repeats }) => repeats.places)).toBe(page.repeats.places);
  expect(sumOf(({ repeats }) => repeats.returns)).toBe(page.repeats.returns);
  expect(byModel.every(({ life }) => life.faults.length > 0)).toBe(true);
});

test("every number of failure rates and ranking opens to as many packs", async () => {
  const page = await readWatch(manager, dataDate, { by: "revision", within: "model" });
  if (page === null) throw new Error("a manager may read it");
  const { lines, choice, ranking } = page.chosen;
  const { checked, wrong } = await wrongLists(
    renderToStaticMarkup(
      <>
        <ModelPart
          modelName="Model A"
          page={page}
          lines={lines.filter(({ modelNames }) => modelNames[0] === "Model A").slice(1, 2)}
        />
        <RankingPart choice={choice} ranking={ranking} />
      </>,
    ),
  );
  expect(wrong).toEqual([]);
  expect(checked).toBeGreaterThan(10);
});

test("the failures that a delay rests on open to as many returns", async () => {
  const page = await readWatch(manager, dataDate, { by: "dealer", within: "model" });
  if (page === null) throw new Error("a manager may read it");
  expect(page.delays?.own.size).toBe(8);
  const { checked, wrong } = await wrongLists(renderToStaticMarkup(<DelayTable delays={page.delays} />));
  expect(wrong).toEqual([]);
  expect(checked).toBe(FOLLOWED);
});

test("every number of the months of sale opens to as many packs", async () => {
  const asked = { by: "revision", group: "MA-2" } as const;
  const page = await readMonthTriangle(manager, dataDate, asked);
  if (page === null) throw new Error("a manager may read it");
  const { checked, wrong } = await wrongLists(
    renderToStaticMarkup(<MonthTable asked={asked} triangle={page.triangle} dataDate={dataDate} />),
  );
  expect(wrong).toEqual([]);
  expect(checked).toBeGreaterThan(10);
});

test("every number of the early signals opens to as many packs", async () => {
  const page = await readSignals(manager, dataDate);
  const states = page?.signals.states ?? [];
  const shown = [...states.slice(0, 5), ...states.slice(-3)];
  const { checked, wrong } = await wrongLists(renderToStaticMarkup(<SignalTable states={shown} />));
  expect(wrong).toEqual([]);
  expect(checked).toBeGreaterThan(8);
});

test("returns undecided for too long open to as many packs, of a comparison and of a signal", async () => {
  const [page, signals] = [
    await readWatch(manager, dataDate, { by: "revision", within: "model" }),
    await readSignals(manager, dataDate),
  ];
  if (page === null || signals === null) throw new Error("a manager may read it");
  const { checked, wrong } = await wrongLists(
    renderToStaticMarkup(
      <>
        <LongUndecidedPart all={page.ifFailures} waitedDays={page.waitedDays} />
        <LongUndecidedSignals all={signals.ifFailures} waitedDays={signals.waitedDays} />
      </>,
    ),
  );
  expect(wrong).toEqual([]);
  expect(checked).toBeGreaterThan(4);
});

test("packs under cover and the failures a law rests on open to as many packs", async () => {
  const page = await readForecast(manager, dataDate);
  if (page === null) throw new Error("a manager may read it");
  const { revisions, beside, lawSettledDays, comeBack } = page;
  const told = await asSystem((tx) =>
    tx.return.count({ where: { status: { notIn: ["draft", "withdrawn", "merged"] } } }),
  );
  const soFar = countComeBack(comeBack);
  // The sentence tells the sums of the table's columns, each number of which opens.
  expect(soFar.packs).toBe(beside.reduce((sum, { cameBack }) => sum + cameBack.packs, 0));
  expect(soFar.returns).toBe(beside.reduce((sum, { cameBack }) => sum + cameBack.returns, 0));
  expect(soFar.packs).toBeGreaterThan(0);
  expect(soFar.returns).toBeGreaterThan(soFar.packs);
  expect(soFar.returns).toBeLessThanOrEqual(told);
  expect(beside.some(({ longUndecided }) => longUndecided > 0)).toBe(true);
  expect(lawSettledDays).toBeGreaterThan(0);
  const some = revisions.slice(0, FEW);
  const { checked, wrong } = await wrongLists(
    renderToStaticMarkup(
      <>
        <ForecastTable revisions={some} totals={[]} dataDate={dataDate} lawSettledDays={lawSettledDays} linked />
        <ReserveTable revisions={some} total={null} cost={null} dataDate={dataDate} linked />
        <BesideTable
          beside={beside.slice(0, FEW)}
          horizons={["cover-end"]}
          waitedDays={lawSettledDays}
          dataDate={dataDate}
          linked
        />
      </>,
    ),
  );
  expect(wrong).toEqual([]);
  expect(checked).toBeGreaterThan(8);
});
