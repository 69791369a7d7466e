import { renderToStaticMarkup } from "react-dom/server";
import { expect, test } from "vitest";
import { AffectedTable, CountryTable } from "@/app/_affected/affected-tables";
import { ForecastTable } from "@/app/(manager)/reliability/forecast/forecast-table";
import { GroupHead } from "@/app/(manager)/reliability/group/group-head";
import { GroupParts } from "@/app/(manager)/reliability/group/group-parts";
import { ModelPart } from "@/app/(manager)/reliability/model-part";
import { monthsAddressSchema } from "@/app/(manager)/reliability/months/month-cell-address";
import { MonthTable } from "@/app/(manager)/reliability/months/month-table";
import { UnknownGroup } from "@/app/(manager)/reliability/months/unknown-group";
import { packListAddressSchema } from "@/app/(manager)/reliability/packs/pack-list-address";
import { RankingPart } from "@/app/(manager)/reliability/ranking-part";
import { ReserveTable } from "@/app/(manager)/reliability/reserve/reserve-table";
import { SignalTable } from "@/app/(manager)/reliability/signals/signal-table";
import { WorseCard } from "@/app/(manager)/reliability/worse-card";
import { mintActor } from "@/lib/access/actor";
import { readForecast } from "@/lib/data/reliability/failure-forecasts";
import { readGroupPage } from "@/lib/data/reliability/group-page";
import { listPacks } from "@/lib/data/reliability/list-packs";
import { readMonthTriangle } from "@/lib/data/reliability/month-triangle";
import { readSignals } from "@/lib/data/reliability/signals";
import { readWatch } from "@/lib/data/reliability/watch";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { findAffectedPacks } from "@/lib/data/safety/affected-packs";
import { comparisonChoiceSchema } from "@/lib/reliability/compare-by";
import { saleMonthSentence } from "@/lib/reliability/month-triangle-words";
import { noSignalSentence } from "@/lib/reliability/signal-sentences";
import { calendarDate } from "@/lib/warranty/calendar";
import { takeAndDecide } from "@/tests/support/decide-return";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

const dataDate = calendarDate("2026-11-01");
const manager = mintActor({ userId: "m", name: "M", role: "manager", dealerId: null });
const choice = { by: "revision", within: "model" } as const;
const notANumber = /NaN|undefined|Infinity|\[object/;

/** What the first page, the signals and both pages of what is to come show of the whole store. */
async function overview(): Promise<string> {
  const [watch, signals, forecast] = [
    await readWatch(manager, dataDate, choice),
    await readSignals(manager, dataDate),
    await readForecast(manager, dataDate),
  ];
  if (watch === null || signals === null || forecast === null) throw new Error("a manager may read all of it");
  const { lines } = watch.chosen;
  const models = [...new Set(lines.flatMap(({ modelNames }) => modelNames))];
  return renderToStaticMarkup(
    <>
      <WorseCard page={watch} />
      {models.map((model) => (
        <ModelPart key={model} modelName={model} page={watch} lines={lines} />
      ))}
      <RankingPart choice={choice} ranking={watch.chosen.ranking} />
      <p>{noSignalSentence(signals.signals.watchedGroups)}</p>
      <SignalTable states={signals.signals.states} />
      <ForecastTable {...forecast} totals={[]} linked />
      <ReserveTable revisions={forecast.revisions} total={null} cost={null} dataDate={dataDate} linked />
    </>,
  );
}

/** What the page of a revision, its months of sale and its packs concerned show. */
async function ofRevision(group: string): Promise<string> {
  const asked = { by: "revision", group } as const;
  const page = await readGroupPage(manager, dataDate, asked);
  const months = await readMonthTriangle(manager, dataDate, asked);
  const found = await findAffectedPacks(manager, asked);
  if (page === null || months === null || found?.kind !== "packs") throw new Error(`${group} is on record`);
  return renderToStaticMarkup(
    <>
      <GroupHead page={page} />
      <GroupParts page={page} />
      <p>{saleMonthSentence(months.triangle)}</p>
      <MonthTable asked={asked} triangle={months.triangle} dataDate={dataDate} />
      <CountryTable packs={found.packs} />
      <AffectedTable packs={found.packs} />
    </>,
  );
}

test("a new maker without a pack is told that nothing can be told yet, on every page", async () => {
  const shown = await overview();
  expect(shown).toContain("It cannot be told yet whether anything got worse");
  expect(shown).toContain("No group can be watched yet: the others of its model have failed too seldom");
  // A row of totals without a revision would be an answer to nothing.
  expect(shown.match(/No revision is on record\./g)).toHaveLength(2);
  expect(shown).toContain("There is no ranking of revisions.");
  expect(shown).not.toMatch(notANumber);
  expect(await readGroupPage(manager, dataDate, { by: "revision", group: "QP-A" })).toBeNull();
});

let fleet: SmallFleet;

test("four packs without a return, and a revision without a pack, say cannot tell yet and no number beside it", async () => {
  fleet = await createSmallFleet({ packs: 4 });
  for (const shown of [await overview(), await ofRevision("QP-A"), await ofRevision("QP-B")])
    expect(shown).not.toMatch(notANumber);
  expect(await overview()).toContain("It cannot be told yet whether anything got worse");
  expect(await ofRevision("QP-A")).toContain("cannot tell yet");
  expect(await ofRevision("QP-B")).toContain("No pack has been in use yet");
});

test("one failure among four packs gives defined results or refusals, never a broken number", async () => {
  const serial = fleet.others[0];
  if (serial === undefined) throw new Error("a fourth pack is expected");
  const lodged = await lodgeReturn(fleet.berlin, filledForm(serial), new Date("2026-10-05T09:00:00Z"));
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  const decision = { remedy: "repair", confirmedFault: "weak-cell", reason: "Group 7 fell away." } as const;
  await takeAndDecide(fleet, lodged.reference, decision, new Date("2026-10-20T09:00:00Z"));
  for (const shown of [await overview(), await ofRevision("QP-A")]) expect(shown).not.toMatch(notANumber);
  expect((await readGroupPage(manager, dataDate, { by: "revision", group: "QP-A" }))?.line.failures).toBe(1);
});

test.each([
  { by: "revision", group: "QP-A", list: "failures", byDays: "1e999" },
  { by: "revision", group: "QP-A", list: "failures", byDays: "-1" },
  { by: "revision", group: "QP-A", list: "failures", byDays: "abc" },
  { by: "revision", group: "QP-A\u0000", list: "failures" },
  { by: "revision", group: "x".repeat(201), list: "failures" },
  { by: "revision", group: ["QP-A", "QP-B"], list: "failures" },
  { by: "nothing", group: "QP-A", list: "failures" },
  { by: "revision", group: "QP-A", list: "left-out", reason: "because" },
])("an address that names no list is refused before anything is asked of the database: %j", (address) => {
  expect(packListAddressSchema.safeParse(address).success).toBe(false);
});

test("what looks like script or a query is a name that nobody has", async () => {
  for (const group of ["<script>alert(1)</script>", '\'; DROP TABLE "Pack"; --', "%00", "QP-Z"]) {
    expect(await readGroupPage(manager, dataDate, { by: "revision", group })).toBeNull();
    const listed = await listPacks(manager, { dataDate, by: "revision", within: "model", group }, "built", 10);
    expect(listed).toEqual({ packs: [], total: 0 });
  }
  expect(comparisonChoiceSchema.parse({ by: "<script>", within: ["a", "b"] })).toEqual(choice);
});

test("months of sale of a name nobody has say that it is not known, and of a revision not sold yet that it is not sold", async () => {
  const asked = monthsAddressSchema.parse({ group: "none" });
  expect(asked).toEqual({ by: "revision", group: "none" });
  for (const unknown of [asked, { by: "cell-lot", group: "none" }] as const)
    expect(await readMonthTriangle(manager, dataDate, unknown)).toMatchObject({
      isKnown: false,
      triangle: { rows: [] },
    });
  expect(renderToStaticMarkup(<UnknownGroup {...asked} />)).toContain("The revision none is not known");
  expect(await readMonthTriangle(manager, dataDate, { by: "revision", group: "QP-B" })).toMatchObject({
    isKnown: true,
  });
});
