import { randomUUID } from "node:crypto";
import { beforeAll, expect, test } from "vitest";
import type { Actor } from "@/lib/access/actor";
import { asActor, asSystem, type Transaction } from "@/lib/data/database";
import { keepReadings } from "@/lib/data/readings/readings";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { takeAndDecide } from "@/tests/support/decide-return";
import { plainLogCsv, streamOf } from "@/tests/support/plain-log-csv";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { countRows, withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

let fleet: SmallFleet;
let loose = "";
let attached = "";
let reference = "";

beforeAll(async () => {
  fleet = await createSmallFleet();
  loose = await upload(60);
  attached = await upload(61);
  const form = filledForm(fleet.soldInBerlin, { readingFileId: attached, dangerSigns: ["swollen"] });
  const answer = await lodgeReturn(fleet.berlin, form, new Date("2026-10-05T09:00:00Z"));
  if (!answer.ok) throw new Error(JSON.stringify(answer));
  reference = answer.reference;
});

async function upload(rows: number): Promise<string> {
  const chunks = streamOf(plainLogCsv({ groups: 16, rows }));
  const kept = await keepReadings(fleet.berlin, { serial: fleet.soldInBerlin, fileName: "log.csv", chunks });
  if (!kept.ok) throw new Error(kept.sentence);
  await asSystem((tx) => tx.finding.deleteMany({ where: { readingFileId: kept.file.id } }));
  await asSystem((tx) => tx.finding.create({ data: findingOf(kept.file.id) }));
  return kept.file.id;
}

function findingOf(readingFileId: string) {
  const evidence = { evidenceFor: ["Group 3 sags."], evidenceAgainst: [], nextTest: "Rest it for a day." };
  return { readingFileId, rank: 1, fault: "weak-cell", groups: [3], confidence: 0.5, safetyClass: "B", ...evidence };
}

test("where a pack was dispatched to is refused to everyone, by a forgotten select, in a select and in a where", async () => {
  const asked: ((tx: Transaction) => Promise<unknown>)[] = [
    (tx) => tx.pack.findFirst(),
    (tx) => tx.pack.findFirst({ select: { dispatchedToId: true } }),
    (tx) => tx.pack.count({ where: { dispatchedToId: fleet.berlin.dealerId } }),
    (tx) => tx.$queryRaw`SELECT "dispatchedToId"::text FROM "Pack"`,
  ];
  for (const actor of [fleet.sydney, fleet.bench, fleet.manager]) {
    for (const ask of asked) await expect(asActor(actor, ask)).rejects.toThrow(/permission denied|denied access/i);
  }
});

test("the rest of a pack is read as before", async () => {
  const select = { serial: true, builtOn: true, dispatchedOn: true, revision: { select: { code: true } } } as const;
  const where = { serial: fleet.soldInBerlin };
  expect(await asActor(fleet.sydney, (tx) => tx.pack.findUnique({ where, select }))).toMatchObject({
    serial: fleet.soldInBerlin,
    revision: { code: "QP-A" },
  });
});

test("a dealer decides no return, not even its own; the bench does", async () => {
  const row = await asSystem((tx) => tx.return.findUniqueOrThrow({ where: { reference }, select: { id: true } }));
  const data = {
    returnId: row.id,
    remedy: "replace",
    confirmedFault: "weak-cell",
    confirmedFailure: true,
    reason: "The customer is a good customer.",
    seenVersion: 1,
    decidedByUserId: fleet.berlin.userId,
    decidedByName: fleet.berlin.name,
    decidedAt: new Date(),
  };
  await expect(asActor(fleet.berlin, (tx) => tx.decision.create({ data }))).rejects.toThrow(/row-level security/);
  expect(await countRows("decision")).toBe(0);
  const decision = {
    confirmedFault: "weak-cell",
    remedy: "isolate",
    reason: "Swollen: kept apart.",
  } as const;
  await takeAndDecide(fleet, reference, decision);
  expect(await countRows("decision")).toBe(1);
});

const writers: [string, () => Actor | null][] = [
  ["its dealer", () => fleet.berlin],
  ["the bench", () => fleet.bench],
  ["the program itself", () => null],
];

function as<Result>(actor: Actor | null, run: (tx: Transaction) => Promise<Result>): Promise<Result> {
  return actor === null ? asSystem(run) : asActor(actor, run);
}

test.each(writers)("what was found in a file of a return is neither removed nor added to by %s", async (_, who) => {
  const where = { readingFileId: attached };
  const writes: ((tx: Transaction) => Promise<unknown>)[] = [
    (tx) => tx.finding.deleteMany({ where }),
    (tx) => tx.measurement.deleteMany({ where }),
    (tx) => tx.suggestion.deleteMany({ where }),
    (tx) => tx.finding.create({ data: { ...findingOf(attached), rank: 9 } }),
  ];
  for (const write of writes) await expect(as(who(), write)).rejects.toThrow(/is evidence/);
});

test.each(writers)(
  "a file of a return is neither removed, nor taken off it, nor given other bytes by %s",
  async (_, who) => {
    const where = { id: attached };
    const writes: ((tx: Transaction) => Promise<unknown>)[] = [
      (tx) => tx.readingFile.deleteMany({ where }),
      (tx) => tx.readingFile.updateMany({ where, data: { returnId: null } }),
    ];
    for (const write of writes) await expect(as(who(), write)).rejects.toThrow(/is evidence/);
    await expect(
      as(who(), (tx) => tx.readingFile.updateMany({ where, data: { sha256: "0".repeat(64) } })),
    ).rejects.toThrow(/is evidence|permission denied|denied access/i);
  },
);

test("a dealer attaches a file and changes nothing else of it", async () => {
  await expect(
    asActor(fleet.berlin, (tx) =>
      tx.readingFile.updateMany({ where: { id: loose }, data: { dealerId: randomUUID(), sha256: "0".repeat(64) } }),
    ),
  ).rejects.toThrow(/permission denied|denied access/i);
});

test("a file that belongs to no return goes with all that was found in it", async () => {
  const found = () =>
    asSystem(async (tx) => [
      await tx.finding.count({ where: { readingFileId: loose } }),
      await tx.suggestion.count({ where: { readingFileId: loose } }),
    ]);
  expect(await found()).toEqual([1, 1]);
  await asActor(fleet.berlin, (tx) => tx.readingFile.deleteMany({ where: { id: loose } }));
  expect(await found()).toEqual([0, 0]);
});

test("a danger sign on the form has made the suggestion anew before it became evidence", async () => {
  const suggestion = await asSystem((tx) => tx.suggestion.findUnique({ where: { readingFileId: attached } }));
  expect(suggestion?.remedy).toBe("isolate");
});
