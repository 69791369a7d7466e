import type { PackModel } from "@/lib/packs/pack-model";
import { type SeededRandom, seededRandom, seedFrom } from "../simulator/seeded-random";
import { badCellLotCode } from "./lots";
import type { BuiltPack } from "./production";
import type { ScenarioBuildRecord } from "./scenario";

/** What end-of-line testing measured. The bad cell lot passed, but stands a little apart for whoever looks. */
export function buildRecord(
  pack: BuiltPack,
  model: PackModel,
  firmware: string,
  lotCodes: readonly string[],
): ScenarioBuildRecord {
  const random = seededRandom(seedFrom(`build/${pack.storySerial}`));
  const badLot = lotCodes.includes(badCellLotCode);
  const capacityAh = model.ratedCapacityAh * (1.018 + (badLot ? -0.007 : 0)) * (1 + random.normal(0, 0.0045));
  const meanMilliohm = (model.groupResistanceMilliohm ?? 1) * (1 + random.normal(0, 0.012));
  // The press-fit build welds faster and scatters more.
  const scatter = pack.revisionCode === "GW-C" ? 0.032 : 0.017;
  const groupResistanceMilliohm = Array.from({ length: model.groups }, () =>
    rounded(meanMilliohm * (1 + random.normal(0, scatter)), 3),
  );
  const sumMilliohm = groupResistanceMilliohm.reduce((sum, milliohm) => sum + milliohm, 0);
  const insulationMegaohm = Math.round(120 + 700 * random.next());
  const lowInsulation = random.chance(0.004);
  return {
    capacityAh: rounded(capacityAh, 2),
    loadTestCurrentA: model.continuousDischargeA,
    loadTestSagV: rounded((model.continuousDischargeA * sumMilliohm) / 1000 + random.normal(0, 0.02), 2),
    groupResistanceMilliohm,
    cellMatchingSpreadMv: rounded(Math.max(1, random.normal(badLot ? 7.5 : 4.8, 1.3)), 1),
    insulationMegaohm: lowInsulation ? random.integer(40, 60) : insulationMegaohm,
    boardIdentity: boardIdentity(pack.serial, random),
    firmware,
    vibrationPassed: true,
    concession: lowInsulation ? "Insulation below 100 megohm after potting; dried for a day and released." : null,
    // Welded cases are bowed a little from new: invented.
    caseGapMillimetre: rounded(Math.abs(random.normal(0.7, 0.5)), 1),
  };
}

/** Unique because the serial's own digits are in it. */
function boardIdentity(serial: string, random: SeededRandom): string {
  const suffix = random.integer(0, 0xffff).toString(16).toUpperCase().padStart(4, "0");
  return `MB-${serial.slice(0, 10)}-${suffix}`;
}

function rounded(quantity: number, places: number): number {
  const scale = 10 ** places;
  return Math.round(quantity * scale) / scale;
}
