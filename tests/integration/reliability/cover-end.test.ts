import { randomUUID } from "node:crypto";
import { beforeAll, expect, test } from "vitest";
import { toDateColumn } from "@/lib/data/calendar-columns";
import { asActor, asSystem } from "@/lib/data/database";
import { readPackFacts } from "@/lib/data/packs/pack-facts";
import { readDecidedReturns } from "@/lib/data/reliability/cost-book";
import { readGroupPage } from "@/lib/data/reliability/group-page";
import { readLifeTable } from "@/lib/data/reliability/life-cells";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { makeMove } from "@/lib/data/returns/move-return";
import { readDealerReturn } from "@/lib/data/returns/returns";
import { answerCover } from "@/lib/data/warranty/cover";
import { lastCoveredDay, readCoverEnds } from "@/lib/data/warranty/cover-ends";
import { policyColumns, readPolicies } from "@/lib/data/warranty/policy-columns";
import { makeSerial, type Serial } from "@/lib/packs/serial";
import { coverRulesSentence } from "@/lib/reliability/cover-rules-sentence";
import type { LifeTable } from "@/lib/reliability/life-cell";
import { tallyLives } from "@/lib/reliability/tally-lives";
import { calendarDate, plusDays } from "@/lib/warranty/calendar";
import { warrantyPolicySchema } from "@/lib/warranty/policy.schema";
import { policyForSale } from "@/lib/warranty/policy-of-sale";
import { takeAndDecide } from "@/tests/support/decide-return";
import { readPackHistories } from "@/tests/support/oracle/pack-histories";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";

// Expected days are counted by hand from the two policies of seed/warranty-policies.ts: sold in 2025, 24 months, three days
// of grace, a replacement covered 90 days at least; sold in 2024, 24 months, no grace, a replacement keeps the remainder.

withTestDatabase();

const dataDate = calendarDate("2027-12-01");
const day = (text: string) => toDateColumn(calendarDate(text));
const spare = (sequence: number) => makeSerial({ model: "QP", buildYear: 2025, buildWeek: 10, sequence });
let fleet: SmallFleet;

beforeAll(async () => {
  fleet = await createSmallFleet();
  await replace(packSoldIn2025(0), spare(1), "2027-04-01");
  await replace(spare(1), spare(2), "2027-05-20");
  await replace(fleet.soldInSydney, spare(3), "2025-09-01");
  await replace(spare(3), spare(4), "2026-01-10");
});

/** All of these were sold on 2025-06-02. */
function packSoldIn2025(index: number): Serial {
  return fleet.others[index] ?? fleet.unsold;
}

async function replace(old: Serial, replacement: Serial, deliveredOn: string): Promise<void> {
  await asSystem(async (tx) => {
    const revision = await tx.revision.findUniqueOrThrow({ where: { code: "QP-B" } });
    const oldPack = await tx.pack.findUniqueOrThrow({ where: { serial: old } });
    const pack = { id: randomUUID(), serial: replacement, revisionId: revision.id, builtOn: day("2025-03-04") };
    await tx.pack.create({ data: pack });
    await tx.replacement.create({ data: { oldPackId: oldPack.id, newPackId: pack.id, deliveredOn: day(deliveredOn) } });
  });
}

/** A photograph of a proof that somebody of the house has read on a day. */
async function proofWasRead(reference: string, soldOn: string, readOn: string): Promise<void> {
  const who = { userId: "l", name: "L" };
  const readAt = new Date(`${readOn}T09:00:00Z`);
  await asSystem(async (tx) => {
    const { id: returnId } = await tx.return.findUniqueOrThrow({ where: { reference } });
    const sizes = { widthPixels: 1200, heightPixels: 900, sharpness: 100 };
    const hashes = { originalSha256: "a".repeat(64), keptSha256: "b".repeat(64) };
    const taken = { takenByUserId: who.userId, takenByName: who.name, takenAt: readAt };
    const photo = await tx.packPhoto.create({
      data: { returnId, view: "proof-of-sale", ...sizes, ...hashes, ...taken },
    });
    const answer = {
      number: 1,
      outcome: "in-cover",
      policyVersion: "2025-01",
      because: ["As told."],
      why: "Slip found.",
    };
    const replaced = { replacedByUserId: who.userId, replacedByName: who.name };
    const proven = { returnId, proofId: photo.id, provenSoldOn: day(soldOn) };
    await tx.earlierCover.create({ data: { ...proven, ...answer, ...replaced, replacedAt: readAt } });
  });
}

async function coverEndOf(serial: Serial): Promise<string | null | undefined> {
  const histories = await asActor(fleet.manager, async (tx) =>
    readPackHistories(tx, { dataDate, by: "revision", within: "model" }, await readPolicies(tx)),
  );
  return histories.find((history) => history.serial === serial)?.coverEndsOn;
}

async function failOn(serial: Serial, toldOn: string): Promise<string> {
  const form = filledForm(serial, { noticedOn: toldOn, toldOn });
  const lodged = await lodgeReturn(fleet.berlin, form, new Date(`${toldOn}T09:00:00Z`));
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  const decision = {
    remedy: "repair",
    confirmedFault: "weak-cell",
    reason: "Group 4 holds 31 Ah.",
  } as const;
  await takeAndDecide(fleet, lodged.reference, decision);
  return lodged.reference;
}

async function failuresOf(group: string) {
  const line = (await readGroupPage(fleet.manager, dataDate, { by: "revision", group }))?.line;
  if (line === undefined) throw new Error(`no line ${group}`);
  return { failures: line.failures, steps: line.curve.steps.filter(({ failures }) => failures > 0) };
}

test("a failure told on the last day of grace counts, one told the day after does not", async () => {
  // 2025-06-02 and 24 months: 2027-06-02; three days of grace: 2027-06-05, 733 days after the sale.
  const inGrace = await failOn(packSoldIn2025(1), "2027-06-05");
  expect((await readDealerReturn(fleet.berlin, inGrace))?.cover.outcome).toBe("in-cover-by-grace");
  const afterGrace = await failOn(packSoldIn2025(2), "2027-06-06");
  // What is put right after the end of cover needs a manager as well.
  const second = { name: "approve-as-second", reason: "Goodwill.", seenVersion: 4 } as const;
  expect(await makeMove(fleet.manager, afterGrace, second)).toMatchObject({ ok: true });
  const { failures, steps } = await failuresOf("QP-A");
  expect(failures).toBe(1);
  // Watched to the same last day besides it: the pack that came a day too late, the six of the same sale that never came
  // back, and the one sold in Berlin on 2025-11-03. The pack replaced in April and Sydney's are gone by then.
  expect(steps).toMatchObject([{ age: 733, failures: 1, atRisk: 9 }]);
  // The one that came a day too late is no failure the forecast counts, so it is in no cost of one either.
  const costs = await asActor(fleet.manager, async (tx) => readDecidedReturns(tx, await readCoverEnds(tx, dataDate)));
  expect(costs.find(({ revision }) => revision === "QP-A")).toMatchObject({
    failures: [{ remedy: "repair", country: "DE", returns: 1 }],
    others: [],
    afterCover: 1,
  });
});

test("a replacement near the end is covered for the minimum from its delivery", async () => {
  // 2027-04-01 and 90 days: 2027-06-30, later than the first pack's 2027-06-02; grace to 2027-07-03.
  expect(await coverEndOf(spare(1))).toBe("2027-07-03");
});

test("the third pack of a chain is counted from the first pack's sale", async () => {
  // 2027-05-20 and 90 days: 2027-08-18; grace to 2027-08-21.
  expect(await coverEndOf(spare(2))).toBe("2027-08-21");
});

test("the policy of the first sale holds for the whole chain, whatever is promised later", async () => {
  expect(await coverEndOf(spare(3))).toBe("2026-03-15");
  expect(await coverEndOf(spare(4))).toBe("2026-03-15");
});

test("without a sale the policy is of the day on which the first pack of the chain was built", async () => {
  const old = { serial: makeSerial({ model: "QP", buildYear: 2024, buildWeek: 23, sequence: 90 }), id: randomUUID() };
  await asSystem(async (tx) => {
    const revision = await tx.revision.findUniqueOrThrow({ where: { code: "QP-B" } });
    await tx.pack.create({ data: { ...old, revisionId: revision.id, builtOn: day("2024-06-03") } });
  });
  await replace(old.serial, spare(5), "2025-09-01");
  const answer = await asSystem(async (tx) => {
    const pack = await readPackFacts(tx, spare(5));
    if (pack === null) throw new Error("no pack");
    const { cover } = await answerCover(tx, pack, { toldOn: dataDate, today: dataDate, stated: null });
    const policies = await readPolicies(tx);
    const of = (date: string) => policyForSale(policies, calendarDate(date)).version;
    return { is: cover.policyVersion, root: of("2024-06-03"), own: of("2025-03-04") };
  });
  expect(answer.root).not.toBe(answer.own);
  expect(answer.is).toBe(answer.root);
});

test("the last day of exposure is the last day on which the cover says yes", async () => {
  for (const serial of [fleet.soldInSydney, packSoldIn2025(0), spare(1), spare(2), spare(3), spare(4)]) {
    const last = calendarDate((await coverEndOf(serial)) ?? "unknown");
    const outcomes = await asSystem(async (tx) => {
      const pack = await readPackFacts(tx, serial);
      if (pack === null) throw new Error(`no pack ${serial}`);
      const on = async (toldOn: typeof last) =>
        (await answerCover(tx, pack, { toldOn, today: dataDate, stated: null })).cover.outcome;
      return [await on(last), await on(plusDays(last, 1))];
    });
    expect(outcomes[0]).toMatch(/^in-cover/);
    expect(outcomes[1]).toBe("outside-makers-guarantee");
  }
});

test("a third pack that fails after the chain's cover is no failure of its revision", async () => {
  await failOn(spare(2), "2027-08-22");
  expect((await failuresOf("QP-B")).failures).toBe(0);
});

test("a clock that stood still while the pack was here moves the end of its exposure as it moves its cover", async () => {
  const terms = { version: "2025-10", validFrom: "2025-10-01", months: 24, clockStop: "while-with-us" };
  await asSystem((tx) => tx.warrantyPolicy.create({ data: policyColumns(warrantyPolicySchema.parse(terms)) }));
  const serial = fleet.soldInBerlin;
  const form = filledForm(serial, { noticedOn: "2026-05-01", toldOn: "2026-05-01" });
  const lodged = await lodgeReturn(fleet.berlin, form, new Date("2026-05-01T09:00:00Z"));
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  const decision = {
    remedy: "return-as-is",
    confirmedFault: "outside-cause",
    reason: "The charger was broken.",
  } as const;
  await takeAndDecide(fleet, lodged.reference, decision, new Date("2026-06-20T09:00:00Z"));
  // Sold 2025-11-03, 24 months: 2027-11-03; from 1 May to 20 June it lay here for 50 days: 2027-12-23.
  expect(await coverEndOf(serial)).toBe("2027-12-23");
  const told = await asSystem(async (tx) => {
    const pack = await readPackFacts(tx, serial);
    if (pack === null) throw new Error("no pack");
    const on = async (text: string) => {
      const toldOn = calendarDate(text);
      return (await answerCover(tx, pack, { toldOn, today: toldOn, stated: null })).cover.outcome;
    };
    const ends = await readCoverEnds(tx, dataDate);
    return {
      end: ends.packEnds[ends.packIds.indexOf(pack.packId)],
      outcomes: [await on("2027-12-23"), await on("2027-12-24")],
    };
  });
  expect(told).toEqual({ end: "2027-12-23", outcomes: ["in-cover", "outside-makers-guarantee"] });
});

test("a proof that was read moves the day a pack came into use, and with it age and end of cover, from the day it was read", async () => {
  const serial = packSoldIn2025(5);
  const form = filledForm(serial, { noticedOn: "2026-08-01", toldOn: "2026-08-01" });
  const lodged = await lodgeReturn(fleet.berlin, form, new Date("2026-08-01T09:00:00Z"));
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  await asSystem((tx) => tx.sale.updateMany({ where: { pack: { serial } }, data: { evidence: "statement" } }));
  await proofWasRead(lodged.reference, "2025-09-01", "2026-08-03");
  const datesOn = async (on: typeof dataDate) => {
    const question = { dataDate: on, by: "revision", within: "model" } as const;
    return asActor(fleet.manager, async (tx) => {
      const histories = await readPackHistories(tx, question, await readPolicies(tx));
      const { soldOn, coverEndsOn } = histories.find((history) => history.serial === serial) ?? {};
      const counted = await readLifeTable(tx, await readCoverEnds(tx, on), question);
      return { soldOn, coverEndsOn, isSame: sumsOf(counted) === sumsOf(tallyLives(histories)) };
    });
  };
  // Entered as sold on 2 June 2025; the proof says 1 September: 24 months and three days of grace from there.
  const byProof = { soldOn: "2025-09-01", coverEndsOn: "2027-09-04", isSame: true };
  expect(await datesOn(calendarDate("2026-08-03"))).toEqual(byProof);
  expect(await datesOn(calendarDate("2026-08-02"))).toEqual({
    soldOn: "2025-06-02",
    coverEndsOn: "2027-06-05",
    isSame: true,
  });
});

test("of proofs read on several packs of a chain the one lodged first counts, as in the answer to a complaint", async () => {
  // The first pack's proof says 1 September 2025, that of the pack which came for it says 1 July.
  await replace(packSoldIn2025(5), spare(6), "2026-09-01");
  const form = filledForm(spare(6), { noticedOn: "2026-10-01", toldOn: "2026-10-01" });
  const lodged = await lodgeReturn(fleet.berlin, form, new Date("2026-10-01T09:00:00Z"));
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  await proofWasRead(lodged.reference, "2025-07-01", "2026-10-03");
  const answered = await asSystem(async (tx) => {
    const pack = await readPackFacts(tx, spare(6));
    if (pack === null) throw new Error("no pack");
    const { cover } = await answerCover(tx, pack, { toldOn: dataDate, today: dataDate, stated: null });
    return cover.outcome === "cannot-tell-yet" ? null : cover.graceEndsOn;
  });
  expect(answered).toBe("2027-09-04");
  expect(await coverEndOf(spare(6))).toBe(answered);
});

// Regulation (EEC, Euratom) No 1182/71, Art. 3(4): a time that would end on a public holiday ends with the next working day. 1 May 2028 is a
// Monday and a holiday in Germany, not in Australia, by the lists of set-up.
test("a cover that would end on a public holiday ends the day after in the country that keeps it, in statistics as in the answer", async () => {
  const sold = { on: day("2026-05-01"), spare: [spare(7), spare(8)] as const };
  await asSystem(async (tx) => {
    const terms = { version: "2026-05", validFrom: "2026-05-01", months: 24, weekendEnd: "next-working-day" };
    await tx.warrantyPolicy.create({ data: policyColumns(warrantyPolicySchema.parse(terms)) });
    const revision = await tx.revision.findUniqueOrThrow({ where: { code: "QP-B" } });
    for (const [i, serial] of sold.spare.entries()) {
      const { id } = await tx.pack.create({
        data: { serial, revisionId: revision.id, builtOn: day("2025-03-04"), dispatchedOn: day("2026-04-01") },
      });
      const dealer = await tx.dealer.findFirstOrThrow({ where: { country: i === 0 ? "DE" : "AU" } });
      const receipt = {
        zone: dealer.timeZone,
        buyerKind: "consumer",
        evidence: "delivery-receipt",
        underObservationFrom: sold.on,
      };
      await tx.sale.create({ data: { packId: id, dealerId: dealer.id, soldOn: sold.on, ...receipt } });
    }
  });
  const [inBerlin, inSydney] = sold.spare;
  expect([await coverEndOf(inBerlin), await coverEndOf(inSydney)]).toEqual(["2028-05-02", "2028-05-01"]);
  const told = await asSystem(async (tx) => {
    const pack = await readPackFacts(tx, inBerlin);
    if (pack === null) throw new Error("no pack");
    const outcomes: string[] = [];
    for (const text of ["2028-05-02", "2028-05-03"]) {
      const toldOn = calendarDate(text);
      outcomes.push((await answerCover(tx, pack, { toldOn, today: toldOn, stated: null })).cover.outcome);
    }
    const on = calendarDate("2028-06-01");
    const question = { dataDate: on, by: "country", within: "model" } as const;
    const histories = await readPackHistories(tx, question, await readPolicies(tx));
    const ends = await readCoverEnds(tx, on);
    const counted = await readLifeTable(tx, ends, question);
    return {
      outcomes,
      isSame: sumsOf(counted) === sumsOf(tallyLives(histories)),
      holidayEnds: ends.holidayEnds.filter(({ country }) => country === "DE" || country === "AU"),
    };
  });
  expect(told).toEqual({
    outcomes: ["in-cover-by-grace", "outside-makers-guarantee"],
    isSame: true,
    holidayEnds: [{ soldOn: "2026-05-01", country: "DE", ends: "2028-05-02" }],
  });
});

/** The cells of a table in an order of their own, as one text. */
function sumsOf({ cells }: Pick<LifeTable, "cells">): string {
  return cells
    .map(({ line, group, exitDays, status, packs }) => `${line} ${group} ${exitDays} ${status} ${packs}`)
    .sort()
    .join("; ");
}

test("a house that has no rules of cover yet has packs without an end of cover, and the pages say so", () => {
  const sold = calendarDate("2025-06-02");
  const pack = { rootBuiltOn: sold, start: { deliveryReceiptOn: sold }, replacements: [] };
  expect(lastCoveredDay({ pack, absences: [], holidays: [] }, dataDate, [])).toBeNull();
  expect(coverRulesSentence(false)).toMatch(/^No guarantee rules are stored yet, so no pack has an end of cover/);
  expect(coverRulesSentence(true)).toBe("");
});
