import { beforeAll, expect, test } from "vitest";
import { mintActor } from "@/lib/access/actor";
import { asActor, asSystem } from "@/lib/data/database";
import { keepSignalsAsSystem } from "@/lib/data/reliability/keep-signals";
import { listFirstSignals } from "@/lib/data/reliability/kept-signals";
import { listPacks } from "@/lib/data/reliability/list-packs";
import { readSignals } from "@/lib/data/reliability/signals";
import { readToldSignals } from "@/lib/data/reliability/told-signals";
import { readWatch } from "@/lib/data/reliability/watch";
import { comparedBy } from "@/lib/reliability/compare-by";
import { nameOfGroup } from "@/lib/reliability/group-name";
import { SIGNAL_RULES_VERSION } from "@/lib/reliability/rule-version";
import { plusDays } from "@/lib/warranty/calendar";
import { madeFleetDataDate, makeFleet } from "@/tests/support/made-fleet";
import { withTestDatabase } from "@/tests/support/test-database";
import { expectWrittenOnce } from "@/tests/support/written-once";

withTestDatabase();

const manager = mintActor({ userId: "m", name: "M", role: "manager", dealerId: null });
const dealer = mintActor({ userId: "d", name: "D", role: "dealer", dealerId: "00000000-0000-0000-0000-000000000001" });
const officer = mintActor({ userId: "s", name: "S", role: "safety-officer", dealerId: null });
const lead = mintActor({ userId: "l", name: "L", role: "service-lead", dealerId: null });
const revision = nameOfGroup({ by: "revision", group: "MA-2" });
/** The round that runs on the day after looks at the data date. */
const dayAfter = (days: number) => new Date(`${plusDays(madeFleetDataDate, days)}T02:00:00Z`);

async function readTold(): Promise<string[]> {
  const rows = await asSystem((tx) => tx.notice.findMany({ where: { kind: "early-signal" } }));
  return rows.map(({ audienceRole, reference }) => `${audienceRole} ${reference}`).sort();
}

/** Young packs of a revision fail one after the other, told and confirmed in the first months of their lives. */
async function failInARow(name: string, revisionCode: string, fault: string, packs: number): Promise<void> {
  await asSystem(async (tx) => {
    await tx.$executeRawUnsafe(`WITH young AS (
        SELECT p."id", s."dealerId", s."soldOn", row_number() OVER (ORDER BY p."serial") AS n FROM "Pack" p
        JOIN "Revision" r ON r."id" = p."revisionId" JOIN "Sale" s ON s."packId" = p."id"
        WHERE r."code" = '${revisionCode}' AND NOT EXISTS (SELECT 1 FROM "Return" t WHERE t."packId" = p."id") AND s."soldOn" < '2025-09-01' LIMIT ${packs})
      , made AS (INSERT INTO "Return" ("id", "reference", "packId", "dealerId", "clientKey", "clientFingerprint", "status", "noticedOn", "toldOn",
        "lodgedAt", "concern", "symptom", "coverOutcome", "coverPolicyVersion", "dangerSigns", "conditions", "coverBecause")
      SELECT md5('${name}' || n)::uuid, '${name}-' || n, "id", "dealerId", md5('${name}' || n)::uuid, 'x', 'closed', "soldOn" + 40 + n::int,
        "soldOn" + 40 + n::int, ("soldOn" + 41 + n::int) + time '10:00', 'It stops.', 'cuts-out', 'cannot-tell-yet', '', '{}', '{}', '{}' FROM young RETURNING "id", "lodgedAt")
      INSERT INTO "Decision" ("id", "returnId", "remedy", "confirmedFault", "confirmedFailure", "reason", "seenVersion", "decidedByUserId",
        "decidedByName", "decidedAt") SELECT md5('${name}' || "id"::text)::uuid, "id", 'repair', '${fault}', true, 'As measured.', 1, 'u', 'U', "lodgedAt" + interval '9 days' FROM made`);
  });
}

beforeAll(async () => {
  await asSystem((tx) => makeFleet(tx, 3000));
});

test("the signals of a day are those of the packs, and each opens to exactly the failures it counts", async () => {
  const page = await readSignals(manager, madeFleetDataDate);
  const states = page?.signals.states ?? [];
  expect(states.length).toBeGreaterThan(10);
  expect(new Set(states.map(({ by }) => by))).toContain("revision");
  const inTwo = [...states.filter(({ by }) => by === "revision").slice(0, 3), ...states.slice(0, 2)];
  for (const { by, group, stratum, fault, countedFromDays, countedUpToDays, observed } of inTwo) {
    const filter = {
      model: stratum,
      byDays: countedUpToDays,
      ...(countedFromDays > 0 && { fromDays: countedFromDays }),
      ...(fault !== null && { fault }),
    };
    const question = { dataDate: madeFleetDataDate, by, within: "model", group, filter } as const;
    const list = await listPacks(manager, question, "failures", 10_000);
    expect(list?.total, `${by} ${group} ${fault}`).toBe(observed);
  }
  expect(await readSignals(dealer, madeFleetDataDate)).toBeNull();
});

test("a signal is kept once when it first comes, and stays when the numbers move", async () => {
  await failInARow("BURST", "MA-2", "weak-cell", 60);
  const raised = await keepSignalsAsSystem(dayAfter(1));
  expect(raised).toBeGreaterThan(0);
  const told = await readTold();
  expect(await keepSignalsAsSystem(dayAfter(1))).toBe(0);
  // The next day brings nothing new: what signalled already is not kept again.
  expect(await keepSignalsAsSystem(dayAfter(2))).toBe(0);
  const kept = (await readSignals(manager, madeFleetDataDate))?.kept ?? [];
  expect(kept).toHaveLength(raised);
  // Of each group once, whatever number of its faults signal, to managers and safety officer; nobody is told again the day after.
  const names = [...new Set(kept.map(nameOfGroup))];
  const expected = names.flatMap((name) => [`manager ${name}`, `safety-officer ${name}`]);
  expect(told).toEqual(expected.sort());
  expect(await readTold()).toEqual(told);
  // Letters of a notice from before notices named their day are of the first signals too.
  for (const day of [madeFleetDataDate, null]) {
    const letter = await asSystem((tx) => readToldSignals(tx, revision, day));
    expect(letter.until).toBe(madeFleetDataDate);
    expect(letter.signals).toContainEqual({ fault: null, observed: expect.any(Number), expected: expect.any(Number) });
  }
  // What the safety officer is told stands on a page of that office too: one line a group and fault, with its numbers.
  const shown = await listFirstSignals(officer);
  expect(shown?.since).toBe(madeFleetDataDate);
  const lines = (some: readonly { by: string; group: string; fault: string | null }[]) =>
    some.map(({ by, group, fault }) => `${nameOfGroup({ by: comparedBy(by), group })} ${fault ?? ""}`).sort();
  expect(lines(shown?.signals ?? [])).toEqual([...new Set(lines(kept))]);
  expect(shown?.signals).toContainEqual({
    ...{ by: "revision", group: "MA-2", fault: null, firstOn: madeFleetDataDate },
    ...{ observed: expect.any(Number), expected: expect.any(Number), baseline: expect.any(Number) },
  });
  for (const nobody of [dealer, lead]) {
    expect(await listFirstSignals(nobody)).toBeNull();
    expect(await asActor(nobody, (tx) => tx.signalAlarm.count())).toBe(0);
  }
  const [first] = kept;
  if (first === undefined) throw new Error("a signal is expected");
  expect(first).toMatchObject({ dataDate: madeFleetDataDate, signalRules: SIGNAL_RULES_VERSION, standsNow: true });
  const watchPage = await readWatch(manager, madeFleetDataDate, { by: "revision", within: "model" });
  expect(watchPage?.signalled).toContainEqual({
    by: first.by,
    group: first.group,
    firstOn: madeFleetDataDate,
    byRulesOfToday: true,
  });
  // A graver fault of a group told before is told too, once enough of its likes had that fault to hold it against.
  await failInARow("BURST-LIKES", "MA-1", "acute-event", 25);
  await failInARow("BURST-GRAVE", "MA-2", "acute-event", 60);
  expect(await keepSignalsAsSystem(dayAfter(3))).toBeGreaterThan(0);
  const toldAgain = (await readTold()).filter((one) => one === `safety-officer ${revision}`);
  expect(toldAgain).toHaveLength(2);
  const second = await asSystem((tx) => readToldSignals(tx, revision, plusDays(madeFleetDataDate, 2)));
  expect(second.signals.map(({ fault }) => fault)).toContain("acute-event");
  // All of them turn out to have been nothing: today's numbers give the signal no longer, and it still stands in the list.
  await asSystem((tx) =>
    tx.return.updateMany({
      where: { reference: { startsWith: "BURST" } },
      data: { status: "withdrawn", version: { increment: 1 } },
    }),
  );
  const later = await readSignals(manager, madeFleetDataDate);
  const { by, group, observed } = first;
  expect(later?.signals.states.some((state) => state.by === by && state.group === group && state.alarm)).toBe(false);
  const keptThen = later?.kept.filter(({ dataDate }) => dataDate === madeFleetDataDate) ?? [];
  expect(keptThen.find((one) => one.by === by && one.group === group)).toMatchObject({ observed });
  expect(later?.kept.every(({ standsNow }) => standsNow !== true)).toBe(true);
  await expectWrittenOnce(
    () => asSystem((tx) => tx.signalAlarm.findMany({ orderBy: { id: "asc" } })),
    () => asSystem((tx) => tx.signalAlarm.deleteMany({})),
  );
});
