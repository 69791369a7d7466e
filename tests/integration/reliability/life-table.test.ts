import { beforeAll, expect, test } from "vitest";
import { mintActor } from "@/lib/access/actor";
import { fromDateColumn, toDateColumn } from "@/lib/data/calendar-columns";
import { asActor, asSystem } from "@/lib/data/database";
import { readGroupPacks } from "@/lib/data/reliability/group-packs";
import { readJointLives, readLifeTable } from "@/lib/data/reliability/life-cells";
import { listPacks } from "@/lib/data/reliability/list-packs";
import { readCoverEnds } from "@/lib/data/warranty/cover-ends";
import { readPolicies } from "@/lib/data/warranty/policy-columns";
import { comparisons, NOT_RECORDED, strata } from "@/lib/reliability/compare-by";
import { exposureOf, returnExposureOf } from "@/lib/reliability/exposure";
import { lifeTableBy } from "@/lib/reliability/joint-lives";
import { type LifeTable, sumPacks } from "@/lib/reliability/life-cell";
import { tallyLives } from "@/lib/reliability/tally-lives";
import { calendarDate, daysBetween, plusDays } from "@/lib/warranty/calendar";
import { madeFleetDataDate, makeFleet } from "@/tests/support/made-fleet";
import { readPackHistories } from "@/tests/support/oracle/pack-histories";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

const manager = mintActor({ userId: "m", name: "M", role: "manager", dealerId: null });
const packs = 1500;

beforeAll(async () => {
  await asSystem((tx) => makeFleet(tx, packs));
});

function sorted({ cells, excluded }: LifeTable) {
  return {
    cells: cells.map((cell) => JSON.stringify(ordered(cell))).sort(),
    excluded: excluded.map((cell) => JSON.stringify(ordered(cell))).sort(),
  };
}

function ordered(cell: object) {
  return Object.fromEntries(Object.entries(cell).sort(([a], [b]) => (a < b ? -1 : 1)));
}

test("the made fleet has every kind of life and every kind of contradiction that a database can hold", async () => {
  const table = await asActor(manager, async (tx) =>
    readLifeTable(tx, await readCoverEnds(tx, madeFleetDataDate), { by: "revision", within: "model" }),
  );
  const endings = new Set(table.cells.map(({ status }) => status));
  expect(endings).toEqual(
    new Set(["failed", "undecided", "out-of-use", "replaced", "cover-ended", "running", "returned"]),
  );
  const reasons = new Set(table.excluded.map(({ reason }) => reason));
  expect(reasons).toEqual(
    new Set([
      "unsold",
      "returned-without-sale-date",
      "return-before-sale",
      "not-yet-in-use",
      "ended-before-observation",
    ]),
  );
  expect(sumPacks(table.cells.filter(({ line }) => line === "confirmed")) + sumPacks(table.excluded)).toBe(packs);
});

test.each([
  ...comparisons.map((by) => ({ by, within: "model" as const, on: madeFleetDataDate })),
  ...strata.map((within) => ({ by: "revision" as const, within, on: calendarDate("2025-09-17") })),
  { by: "cell-lot" as const, within: "model-and-country" as const, on: madeFleetDataDate },
])("one aggregate counts the same lives as the packs one by one: %o", async ({ by, within, on: dataDate }) => {
  const question = { dataDate, by, within };
  const [counted, oneByOne] = await asActor(manager, async (tx) => {
    return [
      await readLifeTable(tx, await readCoverEnds(tx, dataDate), question),
      tallyLives(await readPackHistories(tx, question, await readPolicies(tx))),
    ] as const;
  });
  expect(sorted(counted)).toEqual(sorted(oneByOne));
});

test.each(["dealer", "country"] as const)(
  "a replacement counts under the %s that its customer's first pack was sold by",
  async (by) => {
    const question = { by, within: "model", dataDate: madeFleetDataDate } as const;
    await asActor(manager, async (tx) => {
      const { cells } = await readLifeTable(tx, await readCoverEnds(tx, question.dataDate), question);
      expect(cells.filter(({ group }) => group === NOT_RECORDED)).toEqual([]);
      // Where the first pack of the chain has no sale on record either it is the dealer of the return it came for.
      const first = { oldPack: { sale: null, returns: { some: {} }, replaces: null } } as const;
      const link = await tx.replacement.findFirstOrThrow({
        where: first,
        select: {
          newPackId: true,
          oldPack: { select: { returns: { select: { dealer: true }, orderBy: { lodgedAt: "desc" } } } },
        },
      });
      const [history] = await readPackHistories(tx, question, await readPolicies(tx), { id: link.newPackId });
      const dealer = link.oldPack.returns[0]?.dealer;
      expect(history?.group).toBe(by === "country" ? dealer?.country : `${dealer?.code} ${dealer?.name}`);
    });
  },
);

test("a replacement keeps the dealer of the return it came for when the pack before it comes back through another", async () => {
  const question = { by: "dealer", within: "model", dataDate: madeFleetDataDate } as const;
  const link = await asSystem((tx) =>
    tx.replacement.findFirstOrThrow({
      where: { oldPack: { sale: null, returns: { some: {} }, replaces: null } },
      select: { newPackId: true, oldPackId: true, deliveredOn: true, oldPack: { select: { returns: true } } },
    }),
  );
  const read = () =>
    asActor(manager, async (tx) => {
      const table = await readLifeTable(tx, await readCoverEnds(tx, question.dataDate), question);
      const [history] = await readPackHistories(tx, question, await readPolicies(tx), { id: link.newPackId });
      return { lives: sorted(table), dealer: history?.group };
    });
  const before = await read();
  const [cameFor] = link.oldPack.returns;
  if (cameFor === undefined) throw new Error("a return is expected");
  await asSystem(async (tx) => {
    const another = await tx.dealer.findFirstOrThrow({ where: { id: { not: cameFor.dealerId } } });
    // The old pack lapses at another counter once its customer rides the new one; before the data date.
    await tx.$executeRaw`INSERT INTO "Return" ("id", "reference", "packId", "dealerId", "clientKey", "clientFingerprint", "status", "noticedOn",
        "toldOn", "lodgedAt", "concern", "symptom", "coverOutcome", "coverPolicyVersion", "dangerSigns", "conditions", "coverBecause")
      SELECT md5('elsewhere')::uuid, 'R-ELSEWHERE', ${link.oldPackId}::uuid, ${another.id}::uuid, md5('elsewhere')::uuid, 'x', 'withdrawn', d."on", d."on",
        d."on" + time '10:00', 'It stops.', 'cuts-out', 'cannot-tell-yet', '', '{}', '{}', '{}'
      FROM (SELECT ${link.deliveredOn}::date + 3 AS "on") d`;
  });
  const after = await read();
  expect(after.dealer).toBe(before.dealer);
  expect(after.lives).toEqual(before.lives);
});

test("a return that lapsed, or was never decided, hides no failure that was confirmed later", async () => {
  const dataDate = madeFleetDataDate;
  const later = { some: { reference: { endsWith: "-L" } } } as const;
  await asActor(manager, async (tx) => {
    const question = { dataDate, by: "revision", within: "model" } as const;
    const histories = await readPackHistories(tx, question, await readPolicies(tx), { returns: later });
    const exposures = histories.map(exposureOf).filter(({ kind }) => kind === "exposure");
    expect(exposures.length).toBeGreaterThan(3);
    expect(exposures.filter((one) => one.kind === "exposure" && one.status === "undecided")).toEqual([]);

    const lapsed = { returns: { every: { status: "lapsed" } }, sale: { isNot: null } } as const;
    const onlyLapsed = await readPackHistories(tx, question, await readPolicies(tx), {
      ...lapsed,
      AND: { returns: { some: {} } },
    });
    const lives = onlyLapsed.map((pack) => ({ life: exposureOf(pack), any: returnExposureOf(pack) }));
    expect(lives.length).toBeGreaterThan(1);
    for (const { life, any } of lives) expect(JSON.stringify([life, any])).not.toMatch(/undecided|returned|failed/);
  });
});

test("packs put right after a failure are listed as in use again until they come back, are replaced or leave cover", async () => {
  const dataDate = madeFleetDataDate;
  const today = toDateColumn(dataDate);
  const listed: string[] = [];
  for (const { code } of await asSystem((tx) => tx.revision.findMany({ select: { code: true } }))) {
    const of = { by: "revision", within: "model", group: code, dataDate } as const;
    const page = await listPacks(manager, of, "back-in-use", packs);
    listed.push(...(page?.packs ?? []).map(({ serial }) => serial));
  }
  const expected = await asActor(manager, async (tx) => {
    const question = { dataDate, by: "revision", within: "model" } as const;
    const failed = (await readPackHistories(tx, question, await readPolicies(tx))).filter((pack) => {
      const life = exposureOf(pack);
      const isFailed = life.kind === "exposure" && life.status === "failed";
      return isFailed && pack.replacedOn === null && pack.openReturnToldOn === null;
    });
    const inCover = failed.filter(({ coverEndsOn }) => coverEndsOn === null || coverEndsOn > dataDate);
    const returns = await tx.return.findMany({
      where: { pack: { serial: { in: inCover.map(({ serial }) => serial) } }, decisions: { some: {} } },
      select: {
        pack: { select: { serial: true } },
        decisions: { select: { remedy: true } },
        trackMoves: { select: { to: true }, where: { at: { lt: today } }, orderBy: { sequence: "asc" } },
      },
      orderBy: [{ toldOn: "asc" }, { reference: "asc" }],
    });
    const last = new Map(returns.map((one) => [one.pack.serial, one]));
    return inCover
      .map(({ serial }) => serial)
      .filter((serial) => {
        const remedy = last.get(serial)?.decisions[0]?.remedy ?? "";
        const place = last.get(serial)?.trackMoves.at(-1)?.to ?? "with-customer";
        return remedy === "remote-fix" || (["repair", "return-as-is"].includes(remedy) && place === "with-customer");
      });
  });
  expect(expected.length).toBeGreaterThan(5);
  expect(listed.sort()).toEqual(expected.sort());
});

test("a pack put right that fails again within cover is counted beside the forecast it ran again under, and for no day before", async () => {
  const from = madeFleetDataDate;
  const to = plusDays(from, 40);
  const of = { by: "revision", within: "model" } as const;
  const rows = (await asSystem((tx) => tx.revision.findMany({ select: { code: true } }))).map(({ code }) => code);
  const running = async (group: string) =>
    (await listPacks(manager, { ...of, group, dataDate: from }, "back-in-use", packs))?.packs ?? [];
  const group = (await Promise.all(rows.map(async (code) => ({ code, packs: await running(code) })))).find(
    (one) => one.packs.length > 1,
  );
  const [pack] = group?.packs ?? [];
  if (group === undefined || pack === undefined) throw new Error("packs in use again are expected");
  const again = async (since: typeof from) => {
    const listed = await listPacks(
      manager,
      { ...of, group: group.code, dataDate: to, filter: { since } },
      "failed-again-since",
      9,
    );
    return listed?.packs.map(({ serial, reference }) => [serial, reference]);
  };
  expect(await again(from)).toEqual([]);
  await asSystem(async (tx) => {
    await tx.$executeRaw`INSERT INTO "Return" ("id", "reference", "packId", "dealerId", "clientKey", "clientFingerprint", "status", "noticedOn",
        "toldOn", "lodgedAt", "concern", "symptom", "coverOutcome", "coverPolicyVersion", "dangerSigns", "conditions", "coverBecause")
      SELECT md5('again')::uuid, 'R-AGAIN', p."id", (SELECT "id" FROM "Dealer" ORDER BY "code" LIMIT 1), md5('again')::uuid, 'x', 'closed', ${from}::date + 1, ${from}::date + 1,
        (${from}::date + 2) + time '10:00', 'It stops again.', 'cuts-out', 'cannot-tell-yet', '', '{}', '{}', '{}' FROM "Pack" p WHERE p."serial" = ${pack.serial}`;
    await tx.$executeRaw`INSERT INTO "Decision" ("id", "returnId", "remedy", "confirmedFault", "confirmedFailure", "reason", "seenVersion",
        "decidedByUserId", "decidedByName", "decidedAt")
      VALUES (md5('again')::uuid, md5('again')::uuid, 'repair', 'weak-cell', true, 'As measured.', 1, 'u', 'U', ${from}::date + interval '9 days')`;
  });
  expect(await again(from)).toEqual([[pack.serial, "R-AGAIN"]]);
  // On the day it was lodged it no longer ran again.
  expect(await again(plusDays(from, 3))).toEqual([]);
  expect(await running(group.code)).toEqual(group.packs);
});

test("one reading for all attributes gives each attribute's own table, also with a lot's packs set apart", async () => {
  await asActor(manager, async (tx) => {
    const ends = await readCoverEnds(tx, madeFleetDataDate);
    const lives = await readJointLives(tx, ends, { attributes: comparisons, within: "model" });
    for (const by of comparisons) {
      expect(sorted(lifeTableBy(lives, by))).toEqual(sorted(await readLifeTable(tx, ends, { by, within: "model" })));
    }
    // Lot C-1 is in packs that have it alone and in packs that have it beside a neighbour.
    const apart = lifeTableBy(lives, "revision", [{ by: "cell-lot", group: "C-1" }]);
    const ofIt = (table: LifeTable) =>
      sumPacks([...table.cells.filter(({ line }) => line === "confirmed"), ...table.excluded]);
    const lots = lifeTableBy(lives, "cell-lot");
    const having = (group: string) => group.split(" + ").includes("C-1");
    expect(
      ofIt({
        cells: apart.cells.filter(({ stratum }) => stratum.endsWith(", of it")),
        excluded: apart.excluded.filter(({ stratum }) => stratum.endsWith(", of it")),
      }),
    ).toBe(
      ofIt({
        cells: lots.cells.filter(({ group }) => having(group)),
        excluded: lots.excluded.filter(({ group }) => having(group)),
      }),
    );
  });
});

test("a customer whose pack was refunded or disposed of is watched for further returns up to that day only", async () => {
  await asActor(manager, async (tx) => {
    const ends = await readCoverEnds(tx, madeFleetDataDate);
    const without = await tx.return.findMany({
      where: {
        decision: { is: { remedy: { in: ["refund", "dispose"] }, confirmedFailure: false } },
        status: "closed",
        pack: { sale: { isNot: null }, replaces: null },
      },
      select: {
        toldOn: true,
        lodgedAt: true,
        trackMoves: { where: { from: "with-customer" }, select: { at: true } },
        pack: {
          select: {
            sale: { select: { soldOn: true, underObservationFrom: true } },
            revision: { select: { code: true } },
          },
        },
      },
      orderBy: { reference: "asc" },
    });
    let seen = 0;
    for (const { lodgedAt, trackMoves, pack } of without) {
      const sale = pack.sale;
      if (sale === null) continue;
      const soldOn = fromDateColumn(sale.soldOn);
      const left = fromDateColumn(trackMoves[0]?.at ?? lodgedAt);
      const to = Math.max(1, daysBetween(soldOn, left));
      const from =
        sale.underObservationFrom === null ? 0 : daysBetween(soldOn, fromDateColumn(sale.underObservationFrom));
      const { places } = await readGroupPacks(tx, ends, { by: "revision", within: "model", group: pack.revision.code });
      const fits = places.some((place) => place.from === Math.max(0, from) && place.to === to);
      // Cover that ended before, or a watch that began after, leaves no such place.
      if (fits) seen += 1;
      if (seen === 3) break;
    }
    expect(without.length).toBeGreaterThan(2);
    expect(seen).toBeGreaterThan(1);
  });
});
