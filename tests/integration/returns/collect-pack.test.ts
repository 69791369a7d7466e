import { beforeAll, expect, test } from "vitest";
import { verifyEveryChain } from "@/lib/data/chains/verify-chains";
import { asSystem } from "@/lib/data/database";
import { recordCollection } from "@/lib/data/returns/collect-pack";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { scanPack, setLegalHold } from "@/lib/data/returns/move-track";
import { readDealerReturn } from "@/lib/data/returns/returns";
import { calendarDate } from "@/lib/warranty/calendar";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

const now = new Date("2026-10-05T09:00:00Z");
let fleet: SmallFleet;
let reference = "";

const collection = {
  collectedBy: "Holm Hazard Transport, T. Ruiz",
  paperNumber: "HT-17",
  collectedOn: calendarDate("2026-10-04"),
  keptAt: "Holm's bunker 2",
  seenVersion: 0,
};

const tracksNow = () =>
  asSystem(async (tx) => {
    const pack = { returns: { some: { reference } } };
    const rows = await tx.track.findMany({ where: { pack }, select: { track: true, state: true, version: true } });
    return Object.fromEntries(rows.map(({ track, state, version }) => [track, { state, version }]));
  });

beforeAll(async () => {
  fleet = await createSmallFleet();
  const answer = await lodgeReturn(fleet.berlin, filledForm(fleet.unsold, { dangerSigns: ["swollen"] }), now);
  if (!answer.ok) throw new Error(JSON.stringify(answer));
  reference = answer.reference;
});

test("a swollen pack at the dealer's is fetched by a specialist under its flag, and the safety officer alone writes it down", async () => {
  const before = await tracksNow();
  expect(before.safety?.state).toBe("isolate");
  const seen = { ...collection, seenVersion: before.custody?.version ?? 0 };
  for (const other of [fleet.bench, fleet.lead, fleet.manager, fleet.berlin])
    expect(await recordCollection(other, reference, seen, now)).toMatchObject({ reason: "not-allowed" });
  expect(await recordCollection(fleet.safetyOfficer, reference, { ...seen, keptAt: "" }, now)).toMatchObject({
    reason: "evidence-place-missing",
  });
  expect(
    await setLegalHold(fleet.manager, reference, { to: "held", reason: "A claim is announced.", seenVersion: 0 }, now),
  ).toMatchObject({ ok: true });
  expect(await recordCollection(fleet.safetyOfficer, reference, seen, now)).toMatchObject({ reason: "on-hold" });
  await setLegalHold(fleet.manager, reference, { to: "none", reason: "Settled.", seenVersion: 1 }, now);
  expect(await recordCollection(fleet.safetyOfficer, reference, seen, now)).toMatchObject({ ok: true });
  // The dealer hears of it once, in the same transaction; of the refusals before nobody heard.
  const told = await asSystem((tx) =>
    tx.notice.findMany({ where: { reference, kind: "collected" }, select: { dealerId: true } }),
  );
  expect(told).toEqual([{ dealerId: fleet.berlin.dealerId }]);
  const after = await tracksNow();
  expect(after.safety).toEqual(before.safety);
  expect(after.custody?.state).toBe("specialist");
  const steps = await asSystem((tx) =>
    tx.trackMove.findMany({ where: { track: { track: "custody", pack: { returns: { some: { reference } } } } } }),
  );
  expect(steps.at(-1)).toMatchObject({
    actorName: fleet.safetyOfficer.name,
    to: "specialist",
    reason:
      "Collected by Holm Hazard Transport, T. Ruiz, paper number HT-17, on 2026-10-04. Kept whole as evidence: Holm's bunker 2.",
    facts: { collectedBy: "Holm Hazard Transport, T. Ruiz", paperNumber: "HT-17", collectedOn: "2026-10-04" },
  });
  expect(await verifyEveryChain()).toMatchObject({ broken: [] });
});

test("what a specialist has is collected once, and by no scan of anybody back at the dealer's", async () => {
  const { custody } = await tracksNow();
  const seenVersion = custody?.version ?? 0;
  expect(await recordCollection(fleet.safetyOfficer, reference, { ...collection, seenVersion }, now)).toMatchObject({
    reason: "not-from-here",
  });
  const scan = { scanned: reference, cannotBeRead: false };
  const back = { to: "with-dealer", reason: "Here.", seenVersion, scan } as const;
  for (const one of [fleet.berlin, fleet.bench])
    expect((await scanPack(one, reference, back, now)).ok, one.role).toBe(false);
  expect(await readDealerReturn(fleet.berlin, reference)).toMatchObject({ status: "sent-in" });
});
