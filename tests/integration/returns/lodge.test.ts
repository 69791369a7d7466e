import { beforeAll, expect, test } from "vitest";
import { mintActor } from "@/lib/access/actor";
import { asSystem } from "@/lib/data/database";
import { lookUpPack } from "@/lib/data/packs/packs";
import { keepReadings } from "@/lib/data/readings/readings";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { listDealerReturns, readDealerReturn } from "@/lib/data/returns/returns";
import { makeSerial } from "@/lib/packs/serial";
import { plainLogCsv, streamOf } from "@/tests/support/plain-log-csv";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { countRows, withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

const now = new Date("2026-10-05T09:00:00Z");
let fleet: SmallFleet;
const packFor = (index: number) => fleet.others[index] ?? fleet.unsold;

beforeAll(async () => {
  fleet = await createSmallFleet();
});

test("a return is stored with its cover, its policy version, its history and its words", async () => {
  const answer = await lodgeReturn(fleet.berlin, filledForm(packFor(0)), now);
  if (!answer.ok) throw new Error(JSON.stringify(answer));
  const page = await readDealerReturn(fleet.berlin, answer.reference);
  expect(page?.cover).toMatchObject({ outcome: "in-cover", endsOn: "2027-06-02", policyVersion: "2025-01" });
  expect(page?.cover.because.at(-1)).toBe("Legal rights against the seller are not affected.");
  expect(page?.concern).toBe("Range is half of what it was.");
  expect(page?.moves.map(({ to }) => to)).toEqual(["sent-in"]);
  expect(page?.turn).toBe("The maker's turn");
});

test("a repeated send with the same key is the same return", async () => {
  const form = filledForm(packFor(1));
  const first = await lodgeReturn(fleet.berlin, form, now);
  const again = await lodgeReturn(fleet.berlin, form, new Date("2026-10-05T09:05:00Z"));
  expect(first).toMatchObject({ ok: true, repeated: false });
  expect(again).toEqual({ ...first, repeated: true });
});

test("the same key with other answers is refused", async () => {
  const form = filledForm(packFor(2));
  await lodgeReturn(fleet.berlin, form, now);
  const other = await lodgeReturn(fleet.berlin, { ...form, concern: "Something quite different." }, now);
  expect(other).toMatchObject({ ok: false, problems: [{ field: "clientKey" }] });
});

test("two sends of one form at the same moment give one return", async () => {
  const before = await countRows("return");
  const form = filledForm(packFor(3));
  const answers = await Promise.all([1, 2, 3].map(() => lodgeReturn(fleet.berlin, form, now)));
  const references = new Set(answers.map((answer) => (answer.ok ? answer.reference : "refused")));
  expect(references.size).toBe(1);
  expect(references).not.toContain("refused");
  expect(await countRows("return")).toBe(before + 1);
});

test("a pack with an open return is refused, whoever lodged it, without naming them", async () => {
  await lodgeReturn(fleet.berlin, filledForm(packFor(4)), now);
  const answer = await lodgeReturn(fleet.sydney, filledForm(packFor(4)), now);
  expect(answer).toMatchObject({ ok: false, problems: [{ field: "serial" }] });
  expect(JSON.stringify(answer)).not.toMatch(/Spree|Berta|R-26/);
  const look = await lookUpPack(fleet.sydney, packFor(4));
  expect(look).toMatchObject({ kind: "found", pack: { openReturn: { reference: null } } });
});

test("a serial that is well formed but unknown gets a sentence at the field", async () => {
  const serial = makeSerial({ model: "QP", buildYear: 2024, buildWeek: 2, sequence: 9999 });
  const answer = await lodgeReturn(fleet.berlin, filledForm(serial), now);
  expect(answer).toMatchObject({ ok: false, problems: [{ field: "serial" }] });
  expect(await lookUpPack(fleet.berlin, serial)).toMatchObject({ kind: "unknown-serial" });
});

test("a mistyped serial is answered with the likely one", async () => {
  const mistyped = packFor(5).replace("QP", "PQ");
  expect(await lookUpPack(fleet.berlin, mistyped)).toMatchObject({
    kind: "not-a-serial",
    likely: expect.arrayContaining([expect.objectContaining({ serial: packFor(5) })]),
  });
});

test.each([
  ["told in the future", { toldOn: "2026-12-24", noticedOn: "2026-10-01" }, "toldOn"],
  ["noticed after it was told", { toldOn: "2026-10-02", noticedOn: "2026-10-03" }, "noticedOn"],
  ["sold before it was built", { soldOnStated: "2023-05-01", soldOnEvidence: "till-record" as const }, "soldOnStated"],
])("%s is named at its field and nothing is stored", async (_, changes, field) => {
  const before = await countRows("return");
  const answer = await lodgeReturn(fleet.berlin, filledForm(fleet.unsold, changes), now);
  expect(answer).toMatchObject({ ok: false, problems: [{ field }] });
  expect(await countRows("return")).toBe(before);
});

test("without a known sale the stated one counts, as a statement", async () => {
  const form = filledForm(fleet.unsold, { soldOnStated: "2026-01-05", soldOnEvidence: "customer-says" });
  const answer = await lodgeReturn(fleet.berlin, form, now);
  if (!answer.ok) throw new Error(JSON.stringify(answer));
  const page = await readDealerReturn(fleet.berlin, answer.reference);
  expect(page?.cover).toMatchObject({
    outcome: "in-cover",
    startsOn: "2026-01-05",
    evidence: "statement-at-complaint",
  });
});

test("a pack long sold is outside the maker's guarantee, never without rights", async () => {
  const answer = await lodgeReturn(fleet.sydney, filledForm(fleet.soldInSydney), now);
  if (!answer.ok) throw new Error(JSON.stringify(answer));
  const page = await readDealerReturn(fleet.sydney, answer.reference);
  expect(page?.cover.outcome).toBe("outside-makers-guarantee");
  expect(page?.cover.because.join(" ")).not.toMatch(/no rights/i);
});

test("a danger sign raises a flag and goes to the head of the dealer's list", async () => {
  const flags = await countRows("safetyFlag");
  const answer = await lodgeReturn(fleet.berlin, filledForm(packFor(6), { dangerSigns: ["smoke-or-smell"] }), now);
  expect(answer.ok).toBe(true);
  expect(await countRows("safetyFlag")).toBe(flags + 1);
  const rows = await listDealerReturns(fleet.berlin);
  expect(rows.find(({ serialShown }) => serialShown.replaceAll("-", "") === packFor(6))?.danger).toBe(true);
});

test("an uploaded file becomes part of the return, once, and only for its own pack", async () => {
  const kept = await keepReadings(fleet.berlin, {
    serial: packFor(7),
    fileName: "log.csv",
    chunks: streamOf(plainLogCsv({ groups: 16 })),
  });
  if (!kept.ok) throw new Error(kept.sentence);
  const wrongPack = await lodgeReturn(fleet.berlin, filledForm(packFor(8), { readingFileId: kept.file.id }), now);
  expect(wrongPack).toMatchObject({ ok: false, problems: [{ field: "readingFileId" }] });
  const otherDealer = await lodgeReturn(fleet.sydney, filledForm(packFor(7), { readingFileId: kept.file.id }), now);
  expect(otherDealer).toMatchObject({ ok: false, problems: [{ field: "readingFileId" }] });
  const answer = await lodgeReturn(fleet.berlin, filledForm(packFor(7), { readingFileId: kept.file.id }), now);
  if (!answer.ok) throw new Error(JSON.stringify(answer));
  const page = await readDealerReturn(fleet.berlin, answer.reference);
  expect(page?.readings).toMatchObject({ id: kept.file.id, groups: 16 });
  expect(page?.noFileReason).toBeNull();
});

test("the maker's people lodge nothing in a dealer's stead in this version", async () => {
  expect(await lodgeReturn(fleet.bench, filledForm(packFor(8)), now)).toMatchObject({ ok: false });
  expect(await lodgeReturn(fleet.manager, filledForm(packFor(8)), now)).toMatchObject({ ok: false });
});

test("a failure halfway leaves nothing behind", async () => {
  const before = [await countRows("return"), await countRows("returnMove"), await countRows("safetyFlag")];
  // PostgreSQL stores no NUL character, so the flag fails after the return was written in the same transaction.
  const unwritable = mintActor({
    userId: "user-nul",
    name: "Ber\0ta",
    role: "dealer",
    dealerId: fleet.berlin.dealerId,
  });
  await expect(lodgeReturn(unwritable, filledForm(packFor(8), { dangerSigns: ["hot"] }), now)).rejects.toThrow();
  expect([await countRows("return"), await countRows("returnMove"), await countRows("safetyFlag")]).toEqual(before);
});

test("references rise and carry a check character", async () => {
  const references = await asSystem((tx) =>
    tx.return.findMany({ select: { reference: true }, orderBy: { reference: "asc" } }),
  );
  expect(references.length).toBeGreaterThan(5);
  for (const { reference } of references) expect(reference).toMatch(/^R-26-\d{5}-[0-9A-Z]$/);
});

test("a grave finding in the readings sets the pack apart as a danger sign does, and nobody ships it", async () => {
  const kept = await keepReadings(fleet.berlin, {
    serial: packFor(5),
    fileName: "log.csv",
    chunks: streamOf(plainLogCsv({ groups: 16 })),
  });
  if (!kept.ok) throw new Error(kept.sentence);
  const finding = { rank: 90, fault: "acute-event", groups: [3], confidence: 0.9, nextTest: "None." };
  await asSystem((tx) =>
    tx.finding.create({
      data: { ...finding, readingFileId: kept.file.id, safetyClass: "A1", evidenceFor: ["Hot."], evidenceAgainst: [] },
    }),
  );
  const answer = await lodgeReturn(fleet.berlin, filledForm(packFor(5), { readingFileId: kept.file.id }), now);
  if (!answer.ok) throw new Error(JSON.stringify(answer));
  const page = await readDealerReturn(fleet.berlin, answer.reference);
  expect(page?.steps.safety).toMatchObject({ state: "isolate", version: 1 });
  expect(page?.steps.own.find(({ name }) => name === "withdraw")?.whyNot).toMatch(/set apart/);
});
