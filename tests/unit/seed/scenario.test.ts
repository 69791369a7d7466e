import { createHash } from "node:crypto";
import { expect, test } from "vitest";
import { isSerial } from "@/lib/packs/serial";
import { isReturnReference } from "@/lib/returns/return-reference";
import { calendarDate, daysBetween } from "@/lib/warranty/calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { buildScenario } from "@/seed/scenario/build-scenario";
import { badCellLotCode } from "@/seed/scenario/lots";
import type { Scenario } from "@/seed/scenario/scenario";
import { lastDataDate } from "@/seed/scenario/story-calendar";

const scenario = buildScenario();
const packs = new Map(scenario.packs.map((pack) => [pack.serial, pack]));

function hashOf(value: unknown): string {
  return createHash("sha256").update(JSON.stringify(value)).digest("hex");
}

test("the same options give the same scenario", () => {
  expect(hashOf(buildScenario())).toBe(hashOf(scenario));
});

test("told for another data date the story is the same: only its dates and serials move", () => {
  const later = buildScenario({ asOf: "2028-03-03" });
  expect(later.revisions[0]?.introducedOn).toBe("2024-12-30");
  expect(later.sales.every(({ soldOn }) => soldOn <= "2028-03-03")).toBe(true);
  expect(later.packs.map(({ storySerial }) => storySerial)).toEqual(scenario.packs.map(({ serial }) => serial));
  const plot = ({ returns }: Scenario) =>
    returns.map(({ trueFault, state, dealerCode, decision, noticedOn, toldOn }) => ({
      ...{ trueFault, state, dealerCode },
      remedy: decision?.remedy,
      waitedDays: daysBetween(noticedOn, toldOn),
    }));
  expect(plot(later)).toEqual(plot(scenario));
});

test("a data date that would turn Sundays into working days is refused", () => {
  expect(() => buildScenario({ asOf: "2026-11-21" })).toThrow("not whole weeks");
});

test.each([
  ["2026-11-20", "2026-11-20"],
  ["2026-11-26", "2026-11-20"],
  ["2026-11-27", "2026-11-27"],
  ["2031-02-28", "2031-02-28"],
  ["2026-11-19", "2026-11-13"],
])("on %s the story is told up to %s", (today, dataDate) => {
  expect(lastDataDate(calendarDate(today))).toBe(dataDate);
});

test("a smaller scenario holds about as many packs as asked for", () => {
  expect(Math.abs(buildScenario({ packs: 600 }).packs.length - 600)).toBeLessThan(15);
});

test("the sizes are those of the story", () => {
  expect(scenario.models).toHaveLength(3);
  expect(scenario.revisions.length).toBeGreaterThanOrEqual(6);
  expect(scenario.dealers).toHaveLength(8);
  expect(new Set(scenario.dealers.map(({ country }) => country)).size).toBe(5);
  expect(scenario.packs.length).toBeGreaterThan(5800);
  expect(scenario.packs.length).toBeLessThan(6200);
  const soldShare = scenario.sales.length / scenario.packs.length;
  expect(soldShare).toBeGreaterThan(0.75);
  expect(soldShare).toBeLessThan(0.87);
  expect(scenario.returns.length).toBeGreaterThan(220);
  expect(scenario.returns.length).toBeLessThan(290);
  const open = scenario.returns.filter(({ state }) => state !== "decided");
  expect(open.length).toBeGreaterThanOrEqual(11);
  expect(open.length).toBeLessThanOrEqual(20);
  expect(open.filter(({ dangerSigns }) => dangerSigns.length > 0).length).toBeGreaterThanOrEqual(1);
  const withFile = scenario.returns.filter(({ readings }) => readings !== null).length / scenario.returns.length;
  expect(withFile).toBeGreaterThan(0.8);
  expect(withFile).toBeLessThan(0.92);
  expect(scenario.returns.filter(({ language }) => language !== "en").length).toBeGreaterThan(10);
});

test("every serial is valid and unique, and says the model and the ISO week of build", () => {
  expect(packs.size).toBe(scenario.packs.length);
  expect(scenario.packs.every(({ serial }) => isSerial(serial))).toBe(true);
  expect(scenario.packs.every(({ serial, revisionCode }) => serial.slice(0, 2) === revisionCode.slice(0, 2))).toBe(
    true,
  );
  // 18 September 2023, a Monday, opens ISO week 38.
  expect(scenario.packs[0]?.serial.slice(0, 6)).toBe("BR2338");
});

test("identifiers are unique, in the form of a UUID version 7, and carry their time", () => {
  const ids = [scenario.packs, scenario.sales, scenario.returns, scenario.replacements, scenario.lots, scenario.users]
    .flat()
    .map(({ id }) => id);
  expect(new Set(ids).size).toBe(ids.length);
  expect(ids.every((id) => /^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/.test(id))).toBe(
    true,
  );
  const first = scenario.returns[0];
  expect(Number.parseInt(first?.id.replace("-", "").slice(0, 12) ?? "", 16)).toBe(Date.parse(first?.lodgedAt ?? ""));
});

test("nothing is sent before it is built, sold before it is sent, or dated after the data date", () => {
  for (const pack of scenario.packs) {
    expect(pack.builtOn <= (pack.dispatchedOn ?? scenario.asOf), pack.serial).toBe(true);
    expect((pack.dispatchedOn === null) === (pack.dealerCode === null), pack.serial).toBe(true);
    expect(pack.builtOn <= scenario.asOf, pack.serial).toBe(true);
  }
  for (const sale of scenario.sales) {
    const pack = packs.get(sale.serial);
    expect(pack?.dispatchedOn !== null && (pack?.dispatchedOn ?? "9") <= sale.soldOn, sale.serial).toBe(true);
    expect(sale.soldOn <= sale.underObservationFrom && sale.underObservationFrom <= scenario.asOf, sale.serial).toBe(
      true,
    );
  }
});

test("a return runs in order: noticed, told, lodged, taken up, decided, each before the data date", () => {
  const zones = new Map(scenario.dealers.map(({ code, zone }) => [code, zone]));
  for (const lodged of scenario.returns) {
    const zone = zones.get(lodged.dealerCode) ?? "";
    expect(lodged.noticedOn <= lodged.toldOn, lodged.key).toBe(true);
    expect(civilDateAt(new Date(lodged.toldAt), zone), lodged.key).toBe(lodged.toldOn);
    expect(lodged.toldAt < lodged.lodgedAt, lodged.key).toBe(true);
    expect(lodged.lodgedAt < (lodged.reviewStartedAt ?? "9"), lodged.key).toBe(true);
    expect((lodged.reviewStartedAt ?? "") < (lodged.decision?.decidedAt ?? "9"), lodged.key).toBe(true);
    expect((lodged.decision?.decidedAt ?? lodged.lodgedAt).slice(0, 10) < scenario.asOf, lodged.key).toBe(true);
    expect((lodged.readings === null) === (lodged.noFileReason !== null), lodged.key).toBe(true);
    expect((lodged.state === "decided") === (lodged.decision !== null), lodged.key).toBe(true);
    expect((lodged.state === "sent-in") === (lodged.reviewStartedAt === null), lodged.key).toBe(true);
    expect(isReturnReference(lodged.reference), lodged.key).toBe(true);
  }
});

test("a pack comes back a second time only after the first return was decided, and never once it was replaced", () => {
  const bySerial = new Map<string, (typeof scenario.returns)[number][]>();
  for (const lodged of scenario.returns) {
    bySerial.set(lodged.serial, [...(bySerial.get(lodged.serial) ?? []), lodged]);
  }
  const repeats = [...bySerial.values()].filter((list) => list.length > 1);
  expect(repeats.length).toBeGreaterThan(3);
  for (const list of repeats) {
    list.slice(1).forEach((later, i) => {
      const earlier = list[i];
      expect((earlier?.decision?.decidedAt ?? "9").slice(0, 10) < later.noticedOn, later.key).toBe(true);
      expect(earlier?.decision?.remedy, later.key).not.toBe("replace");
    });
  }
});

test("a replacement is a pack of a permitted revision that was sent for it and never sold", () => {
  const sold = new Set(scenario.sales.map(({ serial }) => serial));
  const permitted = new Set(scenario.compatibilities.map((row) => `${row.oldRevisionCode}>${row.newRevisionCode}`));
  const returnByKey = new Map(scenario.returns.map((lodged) => [lodged.key, lodged]));
  expect(new Set(scenario.replacements.map(({ newSerial }) => newSerial)).size).toBe(scenario.replacements.length);
  for (const { oldSerial, newSerial, deliveredOn, returnKey } of scenario.replacements) {
    const old = packs.get(oldSerial);
    const sent = packs.get(newSerial);
    const lodged = returnByKey.get(returnKey);
    expect(permitted.has(`${old?.revisionCode}>${sent?.revisionCode}`), newSerial).toBe(true);
    expect(lodged?.serial, newSerial).toBe(oldSerial);
    expect(lodged?.decision?.replacementRevisionCode, newSerial).toBe(sent?.revisionCode);
    expect((sent?.dispatchedOn ?? "9") <= deliveredOn && deliveredOn <= scenario.asOf, newSerial).toBe(true);
    expect(sold.has(newSerial), newSerial).toBe(false);
  }
});

test("lots are known, came in before they were built in, and the bad one spans two revisions", () => {
  const received = new Map(scenario.lots.map(({ code, receivedOn }) => [code, receivedOn]));
  for (const pack of scenario.packs) {
    expect(
      pack.lotCodes.every((code) => (received.get(code) ?? "9") <= pack.builtOn),
      pack.serial,
    ).toBe(true);
    expect(pack.lotCodes.length, pack.serial).toBeGreaterThanOrEqual(3);
  }
  const bad = scenario.packs.filter(({ lotCodes }) => lotCodes.includes(badCellLotCode));
  expect(new Set(bad.map(({ revisionCode }) => revisionCode))).toEqual(new Set(["BR-B", "BR-C"]));
  expect(bad.length).toBeGreaterThan(100);
});

test("a build record carries one resistance a group and a board of its own", () => {
  const groups = new Map(scenario.models.map(({ code, model }) => [code, model.groups]));
  for (const { serial, build } of scenario.packs) {
    expect(build.groupResistanceMilliohm, serial).toHaveLength(groups.get(serial.slice(0, 2)) ?? -1);
    expect(build.capacityAh, serial).toBeGreaterThan(0);
  }
  expect(new Set(scenario.packs.map(({ build }) => build.boardIdentity)).size).toBe(scenario.packs.length);
});

test("each readings file knows what is really wrong, names groups that exist and comes out the same twice", () => {
  const groups = new Map(scenario.models.map(({ code, model }) => [code, model.groups]));
  const withFile = scenario.returns.filter(({ readings }) => readings !== null);
  for (const { key, serial, readings, trueFault } of withFile) {
    expect(readings?.truth.fault, key).toBe(trueFault);
    const most = groups.get(serial.slice(0, 2)) ?? 0;
    expect(
      readings?.truth.groups.every((group) => group >= 1 && group <= most),
      key,
    ).toBe(true);
  }
  for (const { serial, readings } of withFile.slice(0, 3)) {
    expect(readings?.csv()).toBe(readings?.csv());
    expect(readings?.fileName.startsWith(serial)).toBe(true);
  }
  expect(new Set(withFile.map(({ readings }) => readings?.fileName)).size).toBe(withFile.length);
});
