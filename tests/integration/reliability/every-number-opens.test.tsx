import { renderToStaticMarkup } from "react-dom/server";
import { beforeAll, expect, test } from "vitest";
import { BesideTable } from "@/app/(manager)/reliability/beside-table";
import { ForecastTable } from "@/app/(manager)/reliability/forecast/forecast-table";
import { GroupParts } from "@/app/(manager)/reliability/group/group-parts";
import { LongUndecidedPart } from "@/app/(manager)/reliability/long-undecided-part";
import { ModelPart } from "@/app/(manager)/reliability/model-part";
import { packListAddressSchema } from "@/app/(manager)/reliability/packs/pack-list-address";
import { RankingPart } from "@/app/(manager)/reliability/ranking-part";
import { ReserveTable } from "@/app/(manager)/reliability/reserve/reserve-table";
import { LongUndecidedSignals } from "@/app/(manager)/reliability/signals/long-undecided-signals";
import { SignalTable } from "@/app/(manager)/reliability/signals/signal-table";
import { mintActor } from "@/lib/access/actor";
import { asSystem } from "@/lib/data/database";
import { readForecast } from "@/lib/data/failure-forecasts";
import { readGroupPage } from "@/lib/data/group-page";
import { listPacks } from "@/lib/data/list-packs";
import { readSignals } from "@/lib/data/signals";
import { readWatch } from "@/lib/data/watch";
import type { CompareBy } from "@/lib/reliability/compare-by";
import { madeFleetDataDate as dataDate, makeFleet } from "@/tests/support/made-fleet";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

const manager = mintActor({ userId: "m", name: "M", role: "manager", dealerId: null });

beforeAll(async () => {
  await asSystem((tx) => makeFleet(tx, 4000));
});

interface OpenedNumber {
  readonly address: string;
  readonly packs: number;
}

/** Every number of a page that leads to a list of packs, as a reader finds it: the link and what it says. */
function openedNumbers(page: string): OpenedNumber[] {
  const links = [...page.matchAll(/<a [^>]*?href="\/reliability\/packs\?([^"]+)"[^>]*>([0-9,]+)</g)];
  const found = new Map<string, OpenedNumber>();
  for (const [, address = "", number = ""] of links) {
    const packs = Number(number.replaceAll(",", ""));
    found.set(`${address} ${packs}`, { address: address.replaceAll("&amp;", "&"), packs });
  }
  return [...found.values()];
}

async function wrongLists(page: string): Promise<{ checked: number; wrong: string[] }> {
  const numbers = openedNumbers(page);
  const wrong: string[] = [];
  for (const { address, packs } of numbers) {
    const { by, group, list, ...filter } = packListAddressSchema.parse(
      Object.fromEntries(new URLSearchParams(address)),
    );
    const listed = await listPacks(manager, { dataDate, by, within: "model", group, filter }, list, 10_000);
    if (listed?.packs.length !== packs) wrong.push(`${address} says ${packs}, lists ${listed?.packs.length}`);
  }
  return { checked: numbers.length, wrong };
}

test.each<[CompareBy, string]>([
  ["revision", "MA-2"],
  ["cell-lot", "C-1"],
])("every number on the page of %s %s opens to as many packs", async (by, group) => {
  const page = await readGroupPage(manager, dataDate, { by, group });
  if (page === null) throw new Error(`there is no ${by} ${group}`);
  const { checked, wrong } = await wrongLists(renderToStaticMarkup(<GroupParts page={page} />));
  expect(wrong).toEqual([]);
  expect(checked).toBeGreaterThan(6);
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

test("every number of the early signals opens to as many packs", async () => {
  const page = await readSignals(manager, dataDate);
  const states = page?.signals.states ?? [];
  const shown = [...states.slice(0, 5), ...states.slice(-3)];
  const { checked, wrong } = await wrongLists(renderToStaticMarkup(<SignalTable states={shown} />));
  expect(wrong).toEqual([]);
  expect(checked).toBeGreaterThan(12);
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
  // Packs that came back within cover are those of the lists of returns; packs may come again, also after their cover.
  const lists = await Promise.all(
    revisions.map(({ group }) =>
      listPacks(manager, { dataDate, by: "revision", within: "model", group }, "returns", 10_000),
    ),
  );
  const told = await asSystem((tx) =>
    tx.return.count({ where: { status: { notIn: ["draft", "withdrawn", "merged"] } } }),
  );
  const cameBack = comeBack.reduce((sum, { packs }) => sum + packs, 0);
  const returns = comeBack.reduce((sum, one) => sum + one.packs * one.returns, 0);
  expect(cameBack).toBe(lists.reduce((sum, list) => sum + (list?.total ?? 0), 0));
  expect(cameBack).toBeGreaterThan(0);
  expect(returns).toBeGreaterThanOrEqual(cameBack);
  expect(returns).toBeLessThanOrEqual(told);
  expect(beside.some(({ longUndecided }) => longUndecided > 0)).toBe(true);
  expect(lawSettledDays).toBeGreaterThan(0);
  const { checked, wrong } = await wrongLists(
    renderToStaticMarkup(
      <>
        <ForecastTable revisions={revisions} totals={[]} dataDate={dataDate} lawSettledDays={lawSettledDays} linked />
        <ReserveTable revisions={revisions} total={null} cost={null} dataDate={dataDate} linked />
        <BesideTable beside={beside} horizons={["cover-end"]} waitedDays={lawSettledDays} dataDate={dataDate} linked />
      </>,
    ),
  );
  expect(wrong).toEqual([]);
  expect(checked).toBeGreaterThan(12);
});
