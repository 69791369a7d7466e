import { randomUUID } from "node:crypto";
import { existsSync } from "node:fs";
import { utimes } from "node:fs/promises";
import { beforeAll, expect, test } from "vitest";
import { asSystem } from "@/lib/data/database";
import { pathOfHeld } from "@/lib/data/readings/held-upload";
import { keepReadings, letHeldGo } from "@/lib/data/readings/readings";
import { takeReadingsOut } from "@/lib/data/readings/take-readings-out";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { flagSafety, setLegalHold } from "@/lib/data/returns/move-track";
import { dropDraft, keepDraft } from "@/lib/data/returns/return-drafts";
import { runDueAsSystem } from "@/lib/data/returns/run-due";
import type { Serial } from "@/lib/packs/serial";
import { draftAnswersSchema } from "@/lib/returns/draft-answers.schema";
import { plainLogCsv, streamOf } from "@/tests/support/plain-log-csv";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";

// A flag alone, and a legal hold alone, each without any incident, keep what was brought of a pack and never sent. Beside each lies
// a pack under neither, of which the same is erased: a round that erases nothing would prove nothing.

withTestDatabase();

const now = new Date("2026-10-05T09:00:00Z");
const days = (count: number) => new Date(now.getTime() + count * 86_400_000);
const why = "Looked at from all sides.";
let fleet: SmallFleet;
let rows = 200;

beforeAll(async () => {
  fleet = await createSmallFleet({ packs: 16 });
});

const nothingStands = { isFlagged: false, isHeld: false };

/** A return of the pack that ended nothing, under a flag, under a hold, or under neither; no incident is opened by any of them. */
async function lodgedUnder(position: number, { isFlagged, isHeld }: typeof nothingStands) {
  const serial = fleet.others[position];
  if (serial === undefined) throw new Error("the fleet has no pack left");
  const signs = isFlagged ? (["impact-or-water"] as const) : (["none-of-these"] as const);
  const form = filledForm(serial, { clientKey: randomUUID(), dangerSigns: [...signs] });
  const lodged = await lodgeReturn(fleet.berlin, form, now);
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  const { reference } = lodged;
  if (isHeld) {
    const hold = { to: "held", reason: "The insurer asked.", seenVersion: 0 } as const;
    expect(await setLegalHold(fleet.manager, reference, hold, now)).toMatchObject({ ok: true });
  }
  expect(await asSystem((tx) => tx.incident.count({ where: { pack: { serial } } }))).toBe(0);
  return { serial, reference };
}

const stands = [
  { what: "a flag alone", isFlagged: true, isHeld: false },
  { what: "a legal hold alone", isFlagged: false, isHeld: true },
] as const;

async function draftOf(serial: Serial): Promise<string> {
  const answers = { ...draftAnswersSchema(randomUUID).parse({ dangerSigns: ["none-of-these"] }), serial };
  expect(await keepDraft(fleet.berlin, { answers, reading: null, seenVersion: 0 }, now)).toMatchObject({ ok: true });
  return answers.clientKey;
}

const draftsLeft = (clientKey: string) => asSystem((tx) => tx.returnDraft.count({ where: { clientKey } }));

/** Another log each time, so that no two files share their bytes. */
const nextLog = () => plainLogCsv({ groups: 16, rows: rows++ });

async function uploadOf(serial: Serial): Promise<string> {
  const kept = await keepReadings(fleet.berlin, { serial, fileName: "log.csv", chunks: streamOf(nextLog()) });
  if (!kept.ok) throw new Error(JSON.stringify(kept));
  return kept.file.id;
}

/** An upload whose columns are asked about and that waits for the answer. */
async function heldOf(serial: Serial): Promise<string> {
  const chunks = streamOf(nextLog().replaceAll(" Voltage / V,", ","));
  const answer = await keepReadings(fleet.berlin, { serial, fileName: "log.csv", chunks });
  if (answer.ok || !("ask" in answer)) throw new Error("nothing was asked");
  return answer.ask.heldId;
}

async function sweepAsOfLater(): Promise<void> {
  const uploadedAt = new Date(Date.now() - 100 * 3_600_000);
  await asSystem((tx) => tx.readingFile.updateMany({ where: { returnId: null }, data: { uploadedAt } }));
  await uploadOf(fleet.unsold);
}

const filesLeft = (id: string) => asSystem((tx) => tx.readingFile.count({ where: { id } }));

test.each(stands)(
  "under $what no draft of the pack is erased, by hand or by time; with neither it is",
  async (stand) => {
    const first = stand.isFlagged ? 0 : 2;
    const kept = await lodgedUnder(first, stand);
    const free = await lodgedUnder(first + 1, nothingStands);
    const [dropped, old] = [await draftOf(kept.serial), await draftOf(kept.serial)];
    const [droppedFree, oldFree] = [await draftOf(free.serial), await draftOf(free.serial)];
    for (const key of [dropped, droppedFree]) await dropDraft(fleet.berlin, key, now);
    expect([await draftsLeft(dropped), await draftsLeft(droppedFree)]).toEqual([1, 0]);
    await runDueAsSystem(days(400));
    expect([await draftsLeft(dropped), await draftsLeft(old), await draftsLeft(oldFree)]).toEqual([1, 1, 0]);
    await letGo(kept.reference, stand.isFlagged);
    await runDueAsSystem(days(401));
    expect([await draftsLeft(dropped), await draftsLeft(old)]).toEqual([0, 0]);
  },
);

test.each(stands)(
  "under $what no upload of the pack is erased, whether read, taken out, waiting or given up; with neither it is",
  async (stand) => {
    const first = stand.isFlagged ? 4 : 6;
    const kept = await lodgedUnder(first, stand);
    const free = await lodgedUnder(first + 1, nothingStands);
    const [read, out] = [await uploadOf(kept.serial), await uploadOf(kept.serial)];
    const readFree = await uploadOf(free.serial);
    await takeReadingsOut(fleet.berlin, out);
    const [asked, askedFree] = [await heldOf(kept.serial), await heldOf(free.serial)];
    const given = await heldOf(kept.serial);
    await letHeldGo(fleet.berlin, given);
    const givenFree = await heldOf(free.serial);
    await letHeldGo(fleet.berlin, givenFree);
    expect([existsSync(pathOfHeld(given)), existsSync(pathOfHeld(givenFree))]).toEqual([true, false]);
    const longAgo = new Date(Date.now() - 100 * 3_600_000);
    const isHeldStill = () => [asked, given, askedFree].map((id) => existsSync(pathOfHeld(id)));
    for (const id of [asked, given, askedFree])
      for (const file of [pathOfHeld(id), `${pathOfHeld(id)}.json`]) await utimes(file, longAgo, longAgo);
    await sweepAsOfLater();
    expect([await filesLeft(read), await filesLeft(out), await filesLeft(readFree)]).toEqual([1, 1, 0]);
    expect(isHeldStill()).toEqual([true, true, false]);
    await letGo(kept.reference, stand.isFlagged);
    await sweepAsOfLater();
    expect([await filesLeft(read), await filesLeft(out)]).toEqual([0, 0]);
    expect(isHeldStill()).toEqual([false, false, false]);
  },
);

async function letGo(reference: string, isFlagged: boolean): Promise<void> {
  const answer = isFlagged
    ? await flagSafety(fleet.safetyOfficer, reference, { to: "normal", reason: why, seenVersion: 1 }, now)
    : await setLegalHold(fleet.manager, reference, { to: "none", reason: why, seenVersion: 1 }, now);
  expect(answer).toMatchObject({ ok: true });
}
