import { randomUUID } from "node:crypto";
import sharp from "sharp";
import { beforeAll, expect, test } from "vitest";
import { asSystem } from "@/lib/data/database";
import { keepPackPhoto, openPackPhoto } from "@/lib/data/packs/pack-photos";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { makeMove } from "@/lib/data/returns/move-return";
import { readToldPhotos } from "@/lib/data/returns/told-photos";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

const now = new Date("2026-10-05T09:00:00Z");
let fleet: SmallFleet;
let reference = "";
let jpeg: Uint8Array;
beforeAll(async () => {
  fleet = await createSmallFleet();
  const answer = await lodgeReturn(fleet.berlin, filledForm(fleet.soldInBerlin, { clientKey: randomUUID() }), now);
  if (!answer.ok) throw new Error(JSON.stringify(answer));
  reference = answer.reference;
  jpeg = await sharp({ create: { width: 1200, height: 900, channels: 3, background: "#887755" } })
    .jpeg()
    .toBuffer();
});

// reference/diagnostics.md 3.7, point 4: label, display, case and connector (common practice).
test("the dealer photographs the complaint, the reviewer sees it, and no other dealer does", async () => {
  expect(await readToldPhotos(fleet.berlin, reference)).toMatchObject({ photos: [], mayAdd: true });
  const kept = await keepPackPhoto(fleet.berlin, reference, "told-display", jpeg, { now });
  if (!kept.ok) throw new Error(kept.sentence);
  const seen = await readToldPhotos(fleet.bench, reference);
  expect(seen?.photos).toMatchObject([{ view: "told-display", takenByName: fleet.berlin.name }]);
  expect(seen?.missing).toEqual(["told-label", "told-case", "told-connector"]);
  expect(await openPackPhoto(fleet.bench, kept.photo.id)).not.toBeNull();
  expect(await openPackPhoto(fleet.sydney, kept.photo.id)).toBeNull();
  expect(await readToldPhotos(fleet.sydney, reference)).toBeNull();
  expect(await keepPackPhoto(fleet.sydney, reference, "told-label", jpeg, { now })).toMatchObject({ ok: false });
});

test("with a question one is added, once it is decided none, and what goods-in takes stays the bench's", async () => {
  const asked = { name: "ask", reason: "Show the label.", seenVersion: 1, stated: { dueOn: "2026-10-12" } } as const;
  expect(await makeMove(fleet.bench, reference, asked, now)).toMatchObject({ ok: true });
  expect(await keepPackPhoto(fleet.berlin, reference, "told-label", jpeg, { now })).toMatchObject({ ok: true });
  expect(await keepPackPhoto(fleet.berlin, reference, "label", jpeg, { now })).toMatchObject({ ok: false });
  await asSystem((tx) => tx.return.updateMany({ where: { reference }, data: { status: "decided", version: 3 } }));
  expect(await keepPackPhoto(fleet.berlin, reference, "told-case", jpeg, { now })).toMatchObject({
    ok: false,
    sentence: expect.stringMatching(/decided already/),
  });
  expect(await readToldPhotos(fleet.berlin, reference)).toMatchObject({ mayAdd: false });
});
