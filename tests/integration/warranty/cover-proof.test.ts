import { randomUUID } from "node:crypto";
import sharp from "sharp";
import { beforeAll, expect, test } from "vitest";
import { verifyEveryChain } from "@/lib/data/chains/verify-chains";
import { asActor, asSystem } from "@/lib/data/database";
import { readPackFacts } from "@/lib/data/packs/pack-facts";
import { keepPackPhoto } from "@/lib/data/packs/pack-photos";
import { lookUpPack } from "@/lib/data/packs/packs";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { makeMove } from "@/lib/data/returns/move-return";
import { readDealerReturn } from "@/lib/data/returns/returns";
import { chooseProof } from "@/lib/data/warranty/choose-proof";
import { readCoverEnds } from "@/lib/data/warranty/cover-ends";
import { proveSale, readCoverProofs } from "@/lib/data/warranty/cover-proof";
import { replayAll, replayReturn } from "@/lib/data/warranty/kept-answers";
import type { Serial } from "@/lib/packs/serial";
import { calendarDate } from "@/lib/warranty/calendar";
import { packInStore } from "@/tests/support/pack-in-store";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";
import { expectWrittenOnce } from "@/tests/support/written-once";

withTestDatabase();

const now = new Date("2026-10-05T09:00:00Z");
let fleet: SmallFleet;
let reference = "";

/** As the page sends it: with the newest photograph there is; without one with a number that stands for none. */
const proof = async (day: string, seenVersion: number) => ({
  proofId: (await readCoverProofs(fleet.lead, reference))?.photo?.id ?? randomUUID(),
  provenSoldOn: calendarDate(day),
  why: "The till slip was found.",
  seenVersion,
});

/** A photograph of the proof, as the page keeps it. */
async function photographed(): Promise<void> {
  await asActor(fleet.berlin, async (tx) => {
    const { id } = await tx.return.findUniqueOrThrow({ where: { reference }, select: { id: true } });
    await tx.packPhoto.create({
      data: {
        returnId: id,
        view: "proof-of-sale",
        originalSha256: "a".repeat(64),
        keptSha256: "b".repeat(64),
        widthPixels: 1200,
        heightPixels: 900,
        sharpness: 100,
        takenByUserId: fleet.berlin.userId,
        takenByName: fleet.berlin.name,
        takenAt: now,
      },
      select: { id: true },
    });
  });
}

beforeAll(async () => {
  fleet = await createSmallFleet();
  const answer = await lodgeReturn(fleet.berlin, filledForm(fleet.unsold, { clientKey: randomUUID() }), now);
  if (!answer.ok) throw new Error(JSON.stringify(answer));
  reference = answer.reference;
});

test("without a photograph of the proof the answer stays, whatever day is given and by whichever door", async () => {
  expect(await proveSale(fleet.bench, reference, await proof("2026-02-03", 1), now)).toMatchObject({
    ok: false,
    reason: "proof-missing",
  });
  const asked = { name: "prove-sale", reason: "So.", seenVersion: 1, stated: { provenSoldOn: "2026-02-03" } } as const;
  expect(await makeMove(fleet.lead, reference, asked, now)).toMatchObject({ ok: false, reason: "proof-missing" });
});

test("a day before the build or after the complaint is refused in words, and another dealer finds no return", async () => {
  await photographed();
  expect(await proveSale(fleet.bench, reference, await proof("2019-01-01", 1), now)).toMatchObject({
    ok: false,
    sentence: expect.stringContaining("The pack was built on"),
  });
  expect(await proveSale(fleet.bench, reference, await proof("2026-12-24", 1), now)).toMatchObject({
    ok: false,
    sentence: expect.stringContaining("The sale cannot be after"),
  });
  expect(await proveSale(fleet.sydney, reference, await proof("2026-02-03", 1), now)).toMatchObject({
    reason: "not-found",
  });
  expect(await proveSale(fleet.finance, reference, await proof("2026-02-03", 1), now)).toMatchObject({ ok: false });
});

test("the dealer sends the proof and never confirms it; what is confirmed is the photograph that was read", async () => {
  expect(await readCoverProofs(fleet.berlin, reference)).toMatchObject({ mayProve: false, maySend: true });
  expect(await proveSale(fleet.berlin, reference, await proof("2026-02-03", 1), now)).toMatchObject({
    reason: "not-allowed",
  });
  const other = { ...(await proof("2026-02-03", 1)), proofId: randomUUID() };
  expect(await proveSale(fleet.bench, reference, other, now)).toMatchObject({
    sentence: expect.stringContaining("Another photograph came"),
  });
  const jpeg = await sharp({ create: { width: 1200, height: 900, channels: 3, background: "#fff" } })
    .jpeg()
    .toBuffer();
  expect(await keepPackPhoto(fleet.berlin, reference, "proof-of-sale", jpeg, { now })).toMatchObject({ ok: true });
  const told = await asSystem((tx) => tx.notice.findMany({ where: { reference, kind: "proof-sent" } }));
  expect(told).toMatchObject([{ audienceRole: "service-lead", dealerId: null }]);
  // Told once a day, however many are sent.
  const sentAt = async (at: Date) => {
    expect(await keepPackPhoto(fleet.berlin, reference, "proof-of-sale", jpeg, { now: at })).toMatchObject({
      ok: true,
    });
    return asSystem((tx) => tx.notice.count({ where: { reference, kind: "proof-sent" } }));
  };
  expect(await sentAt(now)).toBe(1);
  expect(await sentAt(new Date(now.getTime() - 24 * 60 * 60 * 1000))).toBe(2);
});

test("a receipt that nobody of the house has read leaves the day stated", async () => {
  const said = { soldOnStated: "2026-06-01", soldOnEvidence: "delivery-receipt", clientKey: randomUUID() } as const;
  const lodged = await lodgeReturn(fleet.berlin, filledForm(await packInStore("QP-B", 1), said), now);
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  const kept = await readDealerReturn(fleet.berlin, lodged.reference);
  expect(kept?.cover).toMatchObject({ startsOn: "2026-06-01", evidence: "statement-at-complaint" });
  expect(kept?.cover.because.join(" ")).not.toContain("proof of purchase shows");
});

test("a proof gives the answer anew; the one before stays with its proof, and the history names the day", async () => {
  const before = await readDealerReturn(fleet.berlin, reference);
  expect(before?.cover.evidence).not.toBe("delivery-receipt");
  expect(await proveSale(fleet.bench, reference, await proof("2026-02-03", 1), now)).toEqual({ ok: true, version: 2 });
  const after = await readDealerReturn(fleet.berlin, reference);
  expect(after?.status).toBe("sent-in");
  expect(after?.cover).toMatchObject({ outcome: "in-cover", startsOn: "2026-02-03", evidence: "delivery-receipt" });
  const proofs = await readCoverProofs(fleet.berlin, reference);
  expect(proofs).toMatchObject({ mayProve: false, maySend: true, photo: null });
  expect(proofs?.earlier).toEqual([
    expect.objectContaining({ number: 1, outcome: before?.cover.outcome, because: before?.cover.because }),
  ]);
  const [last] = await asSystem((tx) =>
    tx.returnMove.findMany({ where: { return: { reference } }, orderBy: { sequence: "desc" }, take: 1 }),
  );
  expect(last).toMatchObject({ move: "prove-sale", facts: { stated: { provenSoldOn: "2026-02-03" } } });
  const told = await asSystem((tx) =>
    tx.notice.findMany({ where: { reference, kind: "cover-anew" }, select: { dealerId: true, audienceRole: true } }),
  );
  expect(told).toEqual(
    expect.arrayContaining([
      { dealerId: fleet.berlin.dealerId, audienceRole: null },
      { dealerId: null, audienceRole: "service-lead" },
    ]),
  );
  expect(told).toHaveLength(2);
  expect(await verifyEveryChain()).toMatchObject({ broken: [] });
});

test("a second proof is another answer: service corrects the day, and both answers before stay", async () => {
  await photographed();
  expect(await proveSale(fleet.lead, reference, await proof("2023-02-03", 2), now)).toMatchObject({ ok: false });
  expect(await proveSale(fleet.lead, reference, await proof("2024-03-04", 2), now)).toEqual({ ok: true, version: 3 });
  const after = await readDealerReturn(fleet.berlin, reference);
  expect(after?.cover).toMatchObject({ outcome: "outside-makers-guarantee", startsOn: "2024-03-04" });
  const proofs = await readCoverProofs(fleet.lead, reference);
  expect(proofs?.earlier.map(({ number, outcome, replacedByName }) => [number, outcome, replacedByName])).toEqual([
    [1, expect.anything(), "Benno"],
    [2, "in-cover", "Lenka"],
  ]);
});

test("the answer that stands and those before it come out as they were given when they are given again", async () => {
  const one = await replayReturn(fleet.manager, reference, now);
  expect(one?.thatDay).toMatchObject({ kind: "replayed", differences: [] });
  expect(one?.earlier.map(({ kept, thatDay }) => [kept.outcome, thatDay])).toEqual([
    [expect.anything(), expect.objectContaining({ kind: "replayed", differences: [] })],
    ["in-cover", expect.objectContaining({ kind: "replayed", differences: [] })],
  ]);
  expect(await replayAll(fleet.manager)).toEqual({ answers: 4, withoutFacts: 0, differing: [] });
});

test("an answer that was replaced is never changed", async () => {
  await expectWrittenOnce(
    () => asSystem((tx) => tx.earlierCover.findMany({ orderBy: { number: "asc" } })),
    () => asSystem((tx) => tx.earlierCover.updateMany({ data: { outcome: "in-cover" } })),
  );
});

test("where nobody can act on a proof any more none is taken", async () => {
  const lodged = await lodgeReturn(
    fleet.berlin,
    filledForm(await packInStore("QP-B", 3), { clientKey: randomUUID() }),
    now,
  );
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  const withdraw = { name: "withdraw", reason: "The customer rides on.", seenVersion: 1 } as const;
  expect(await makeMove(fleet.berlin, lodged.reference, withdraw, now)).toMatchObject({ ok: true });
  const bytes = Buffer.from("never looked at");
  expect(await keepPackPhoto(fleet.berlin, lodged.reference, "proof-of-sale", bytes, { now })).toMatchObject({
    ok: false,
    sentence: expect.stringContaining("not open"),
  });
});

test("what was read once counts at every later return, of the pack and of the one that came in its place", async () => {
  const first = await asSystem((tx) => readPackFacts(tx, fleet.unsold));
  expect(first).toMatchObject({ saleKnown: true, start: { provenOn: ["2024-03-04"] } });
  const serial = await packInStore("QP-A", 4711);
  await asSystem(async (tx) => {
    const { id } = await tx.pack.findUniqueOrThrow({ where: { serial }, select: { id: true } });
    const deliveredOn = new Date("2026-06-01");
    await tx.replacement.createMany({ data: [{ oldPackId: first?.packId ?? "", newPackId: id, deliveredOn }] });
  });
  const replacing = await asSystem((tx) => readPackFacts(tx, serial));
  expect(replacing).toMatchObject({
    saleKnown: true,
    rootBuiltOn: first?.builtOn,
    start: { provenOn: ["2024-03-04"] },
  });
  const look = await lookUpPack(fleet.berlin, serial);
  expect(look).toMatchObject({
    kind: "found",
    pack: { cameAsReplacement: true, cover: { startsOn: "2024-03-04", evidence: "delivery-receipt" } },
  });
});

/** A return of a pack whose sale was guessed at the counter, with a photograph of a proof on it. */
async function lodgedWithProof(serial: Serial, soldOnStated: string, toldOn: string): Promise<string> {
  const said = {
    soldOnStated,
    soldOnEvidence: "customer-says",
    noticedOn: toldOn,
    toldOn,
    clientKey: randomUUID(),
  } as const;
  const lodged = await lodgeReturn(fleet.berlin, filledForm(serial, said), now);
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  reference = lodged.reference;
  await photographed();
  return lodged.reference;
}

const coverNow = async (of: string) => (await readDealerReturn(fleet.berlin, of))?.cover;

test("a guess at the counter gives way to the proof that is read, however far apart they are", async () => {
  const guessed = await lodgedWithProof(await packInStore("QP-B", 21, 2024), "2026-02-01", "2026-10-01");
  expect(await coverNow(guessed)).toMatchObject({ outcome: "in-cover", evidence: "statement-at-complaint" });
  expect(await proveSale(fleet.bench, guessed, await proof("2024-06-03", 1), now)).toMatchObject({ ok: true });
  const after = await coverNow(guessed);
  expect(after).toMatchObject({
    outcome: "outside-makers-guarantee",
    startsOn: "2024-06-03",
    evidence: "delivery-receipt",
  });
  expect(after?.because.join(" ")).toContain("A proof counts before it");
  // An answer of the rules before, under which the guess contradicted the proof, comes out as it was given then.
  await asSystem((tx) =>
    tx.return.update({
      where: { reference: guessed },
      data: { coverOutcome: "cannot-tell-yet", coverEndsOn: null, coverRulesVersion: "6" },
      select: { id: true },
    }),
  );
  expect(await replayReturn(fleet.manager, guessed, now)).toMatchObject({
    thatDay: { differences: [], rulesChanged: false },
    today: { rulesChanged: true, differences: expect.arrayContaining([expect.objectContaining({ what: "outcome" })]) },
  });
});

test("between two proofs the service lead chooses by name and with a reason, and it holds at later returns of the chain", async () => {
  const serial = await packInStore("QP-B", 22, 2024);
  await asSystem(async (tx) => {
    const { id } = await tx.pack.findUniqueOrThrow({ where: { serial }, select: { id: true } });
    const of = { packId: id, dealerId: fleet.sydney.dealerId ?? "", zone: "Australia/Sydney", buyerKind: "consumer" };
    await tx.sale.create({
      data: {
        ...of,
        soldOn: new Date("2024-06-05"),
        evidence: "delivery-receipt",
        underObservationFrom: new Date("2024-06-05"),
      },
      select: { id: true },
    });
  });
  const atOdds = await lodgedWithProof(serial, "2024-06-05", "2026-10-01");
  expect(await coverNow(atOdds)).toMatchObject({ outcome: "outside-makers-guarantee", startsOn: "2024-06-05" });
  expect((await readCoverProofs(fleet.lead, atOdds))?.toChoose).toEqual([]);
  expect(await proveSale(fleet.bench, atOdds, await proof("2025-06-03", 1), now)).toMatchObject({ ok: true });
  expect(await coverNow(atOdds)).toMatchObject({
    outcome: "cannot-tell-yet",
    wouldChange: ["The choice, by name and with its reason, of the proof of purchase that counts."],
  });
  expect((await readCoverProofs(fleet.bench, atOdds))?.toChoose).toEqual([]);
  expect((await readCoverProofs(fleet.berlin, atOdds))?.toChoose).toEqual([]);
  expect((await readCoverProofs(fleet.lead, atOdds))?.toChoose).toEqual([
    { soldOn: "2024-06-05", readOn: [] },
    { soldOn: "2025-06-03", readOn: [atOdds] },
  ]);
  const [sold, proven] = [calendarDate("2024-06-05"), calendarDate("2025-06-03")];
  const choice = {
    chosenOn: proven,
    shownDays: [sold, proven],
    why: "The receipt was of another pack.",
    seenVersion: 2,
  };
  expect(await chooseProof(fleet.bench, atOdds, choice, now)).toMatchObject({ reason: "not-allowed" });
  expect(await chooseProof(fleet.berlin, atOdds, choice, now)).toMatchObject({ reason: "not-allowed" });
  const other = calendarDate("2025-06-04");
  expect(await chooseProof(fleet.lead, atOdds, { ...choice, shownDays: [sold, other] }, now)).toMatchObject({
    reason: "proof-missing",
  });
  expect(await chooseProof(fleet.lead, atOdds, { ...choice, chosenOn: other }, now)).toMatchObject({
    reason: "proof-day-missing",
  });
  expect(await chooseProof(fleet.lead, atOdds, { ...choice, seenVersion: 1 }, now)).toMatchObject({
    reason: "someone-changed-this",
  });
  expect(await chooseProof(fleet.lead, atOdds, choice, now)).toEqual({ ok: true, version: 3 });
  expect(await coverNow(atOdds)).toMatchObject({ outcome: "in-cover", startsOn: "2025-06-03" });
  const after = await readCoverProofs(fleet.lead, atOdds);
  expect(after).toMatchObject({ toChoose: [] });
  expect(after?.earlier.at(-1)).toMatchObject({
    outcome: "cannot-tell-yet",
    proofId: null,
    chosenAgainst: ["2024-06-05"],
    why: "The receipt was of another pack.",
    replacedByName: "Lenka",
  });
  const [last] = await asSystem((tx) =>
    tx.returnMove.findMany({ where: { return: { reference: atOdds } }, orderBy: { sequence: "desc" }, take: 1 }),
  );
  expect(last).toMatchObject({
    move: "choose-proof",
    actorName: "Lenka",
    reason: "The receipt was of another pack.",
    facts: { stated: { provenSoldOn: "2025-06-03", chosenAgainst: ["2024-06-05"] } },
  });
  expect(await lookUpPack(fleet.berlin, serial)).toMatchObject({ pack: { cover: { startsOn: "2025-06-03" } } });
  const dated = await asSystem((tx) => readCoverEnds(tx, calendarDate("2026-10-05")));
  const { packId = "" } = (await asSystem((tx) => readPackFacts(tx, serial))) ?? {};
  expect(dated.redatedDays[dated.redatedIds.indexOf(packId)]).toBe("2025-06-03");
  // The days of grace of the fleet's policy are in it.
  expect(dated.packEnds[dated.packIds.indexOf(packId)]).toBe("2027-06-06");
  expect(await verifyEveryChain()).toMatchObject({ broken: [] });
});
