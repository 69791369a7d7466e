import { groupSerial, readSerial } from "@/lib/packs/serial";
import { buildScenario } from "@/seed/scenario/build-scenario";
import { plainStyle } from "@/seed/simulator/csv-style";
import { renderCsv } from "@/seed/simulator/render-csv";
import { simulateLog } from "@/seed/simulator/simulate-log";
import type { SimulatedFault } from "@/seed/simulator/simulated-fault";

/** Packs of the demo that dealer D01 sold and that never came back, with a log for each made by the pack simulator. */
export function scenarioPacks(revisionCode: string) {
  const scenario = buildScenario();
  const touched = new Set([
    ...scenario.returns.map(({ serial }) => serial),
    ...scenario.replacements.flatMap(({ oldSerial, newSerial }) => [oldSerial, newSerial]),
  ]);
  const sold = new Map(
    scenario.sales.filter(({ dealerCode }) => dealerCode === "D01").map((sale) => [sale.serial, sale]),
  );
  const packs = scenario.packs.filter(
    (pack) => pack.revisionCode === revisionCode && sold.has(pack.serial) && !touched.has(pack.serial),
  );
  return packs.map((pack) => {
    const model = scenario.models.find(({ code }) => code === pack.serial.slice(0, 2))?.model;
    const serial = readSerial(pack.serial);
    if (model === undefined || serial.kind !== "serial")
      throw new RangeError(`${pack.serial} is no pack of the scenario`);
    return {
      serial: pack.serial,
      shown: groupSerial(serial.serial),
      soldOn: sold.get(pack.serial)?.soldOn ?? "",
      groups: model.groups,
      log: (fault: SimulatedFault) =>
        renderCsv(
          simulateLog({
            model,
            serial: pack.serial,
            seed: 20261125,
            fault,
            startUnixS: Date.parse("2026-11-16T06:00:00Z") / 1000,
            ambientC: 14,
            cycleCount: 40,
            builtCapacityAh: pack.build.capacityAh,
            builtGroupResistanceMilliohm: pack.build.groupResistanceMilliohm,
          }),
          plainStyle,
        ),
    };
  });
}
