import { expect, test } from "vitest";
import { daysBetween } from "@/lib/warranty/calendar";
import { buildScenario } from "@/seed/scenario/build-scenario";
import { failureProbability } from "@/seed/scenario/failure-process";
import { badCellLotCode } from "@/seed/scenario/lots";

const scenario = buildScenario();
const packs = new Map(scenario.packs.map((pack) => [pack.serial, pack]));
const young = "GW-C";
const predecessor = "GW-B";

interface Life {
  readonly entryDays: number;
  readonly exitDays: number;
  readonly failed: boolean;
}

/** Lives of the packs chosen, from the sale to the first return or the data date. */
function livesOf(chosen: (serial: string) => boolean): Life[] {
  const firstReturn = new Map<string, (typeof scenario.returns)[number]>();
  for (const lodged of scenario.returns) {
    if (!firstReturn.has(lodged.serial)) {
      firstReturn.set(lodged.serial, lodged);
    }
  }
  return scenario.sales
    .filter(({ serial }) => chosen(serial))
    .map((sale) => {
      const lodged = firstReturn.get(sale.serial);
      const end = lodged?.noticedOn ?? scenario.asOf;
      return {
        entryDays: daysBetween(sale.soldOn, sale.underObservationFrom),
        exitDays: daysBetween(sale.soldOn, end),
        failed: lodged !== undefined,
      };
    });
}

/** Product-limit estimate, written out: 1 - product of (1 - d/n), n the packs with entry < t <= exit. */
function failedByAge(lives: readonly Life[], ageDays: number): { share: number; atRisk: number; deviation: number } {
  let survival = 1;
  let greenwood = 0;
  for (let day = 1; day <= ageDays; day++) {
    const atRisk = lives.filter(({ entryDays, exitDays }) => entryDays < day && exitDays >= day).length;
    const failed = lives.filter((life) => life.failed && life.exitDays === day).length;
    survival *= failed > 0 ? 1 - failed / atRisk : 1;
    greenwood += failed > 0 ? failed / (atRisk * (atRisk - failed)) : 0;
  }
  const atRisk = lives.filter(({ entryDays, exitDays }) => entryDays < ageDays && exitDays >= ageDays).length;
  return { share: 1 - survival, atRisk, deviation: survival * Math.sqrt(greenwood) };
}

const ofRevision = (code: string) => livesOf((serial) => packs.get(serial)?.revisionCode === code);

test("returns divided by shipments rank the young revision among the three best of eight", () => {
  const ratios = scenario.revisions.map(({ code }) => {
    const shipped = scenario.packs.filter((pack) => pack.revisionCode === code && pack.dispatchedOn !== null).length;
    const returned = scenario.returns.filter(({ serial }) => packs.get(serial)?.revisionCode === code).length;
    return { code, ratio: returned / shipped };
  });
  ratios.sort((a, b) => a.ratio - b.ratio);
  const of = (code: string) => ratios.find((row) => row.code === code)?.ratio ?? 0;
  expect(ratios.slice(0, 3).map(({ code }) => code)).toContain(young);
  expect(of(young)).toBeLessThan(0.5 * of(predecessor));
});

test("the true failure probability of the young revision at 90 and 180 days is 2.4 to 3 times its predecessor's", () => {
  for (const ageDays of [90, 180]) {
    const ratio =
      failureProbability({ revisionCode: young, lotCodes: [] }, ageDays) /
      failureProbability({ revisionCode: predecessor, lotCodes: [] }, ageDays);
    expect(ratio).toBeGreaterThan(2.4);
    expect(ratio).toBeLessThan(3);
  }
});

test("at equal age the young revision has failed clearly more often, by more than two standard errors at 180 days", () => {
  const youngLives = ofRevision(young);
  const oldLives = ofRevision(predecessor);
  for (const ageDays of [90, 180]) {
    const ours = failedByAge(youngLives, ageDays);
    const theirs = failedByAge(oldLives, ageDays);
    expect(ours.atRisk).toBeGreaterThan(200);
    expect(ours.share / theirs.share).toBeGreaterThan(1.8);
    if (ageDays === 180) {
      expect(ours.share - theirs.share).toBeGreaterThan(2 * Math.hypot(ours.deviation, theirs.deviation));
    }
  }
});

test("the estimate recovers the true process: true values lie within three standard errors for every revision", () => {
  for (const { code } of scenario.revisions) {
    const lives = livesOf((serial) => {
      const pack = packs.get(serial);
      return pack?.revisionCode === code && !pack.lotCodes.includes(badCellLotCode);
    });
    const { share, deviation } = failedByAge(lives, 180);
    const truth = failureProbability({ revisionCode: code, lotCodes: [] }, 180);
    // The binomial deviation at the true value, so that a revision without failures is judged too.
    const floor = Math.sqrt((truth * (1 - truth)) / Math.max(1, lives.length));
    expect(Math.abs(share - truth), code).toBeLessThan(3 * Math.max(deviation, floor));
  }
});

test("packs of the bad cell lot come back several times as often as others of the same two revisions", () => {
  const inLot = (serial: string) => packs.get(serial)?.lotCodes.includes(badCellLotCode) ?? false;
  const sameRevisions = (serial: string) => ["BR-B", "BR-C"].includes(packs.get(serial)?.revisionCode ?? "");
  const bad = failedByAge(livesOf(inLot), 365);
  const good = failedByAge(
    livesOf((serial) => sameRevisions(serial) && !inLot(serial)),
    365,
  );
  expect(bad.share).toBeGreaterThan(2.5 * good.share);
});

test("the dealer that joined late brings sales that are watched only from the day it joined", () => {
  const late = scenario.dealers.filter(({ joinedOn, sellingSince }) => joinedOn > sellingSince);
  expect(late).toHaveLength(1);
  const older = scenario.sales.filter(({ underObservationFrom, soldOn }) => underObservationFrom > soldOn);
  expect(older.length).toBeGreaterThan(50);
  expect(older.every((sale) => sale.dealerCode === late[0]?.code)).toBe(true);
  const returned = new Map(scenario.returns.map(({ serial, noticedOn }) => [serial, noticedOn]));
  expect(older.every((sale) => (returned.get(sale.serial) ?? "9") > sale.underObservationFrom)).toBe(true);
});
