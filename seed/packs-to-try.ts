import { mkdirSync, writeFileSync } from "node:fs";
import path from "node:path";
import { groupSerial, readSerial } from "@/lib/packs/serial";
import type { Scenario } from "./scenario/scenario";
import { plainStyle } from "./simulator/csv-style";
import { renderCsv } from "./simulator/render-csv";
import { seedFrom } from "./simulator/seeded-random";
import { simulateLog } from "./simulator/simulate-log";
import type { SimulatedFault } from "./simulator/simulated-fault";

export interface PackToTry {
  readonly serial: string;
  /** As on the label. */
  readonly shown: string;
  readonly revisionCode: string;
  readonly soldOn: string;
  readonly groups: number;
  /** The readings file such a pack would send with this fault, made by the pack simulator. */
  readonly log: (fault: SimulatedFault) => string;
}

/** Packs that a dealer sold and that never came back: what somebody who tries the program may lodge a return for. */
export function packsToTry(scenario: Scenario, dealerCode: string): PackToTry[] {
  const touched = new Set([
    ...scenario.returns.map(({ serial }) => serial),
    ...scenario.replacements.flatMap(({ oldSerial, newSerial }) => [oldSerial, newSerial]),
  ]);
  const soldOn = new Map(
    scenario.sales.filter((sale) => sale.dealerCode === dealerCode).map((sale) => [sale.serial, sale.soldOn]),
  );
  const models = new Map(scenario.models.map(({ code, model }) => [code, model]));
  return scenario.packs.flatMap(({ serial: stored, revisionCode, build }) => {
    const sold = soldOn.get(stored);
    const model = models.get(stored.slice(0, 2));
    const reading = readSerial(stored);
    if (sold === undefined || touched.has(stored) || model === undefined || reading.kind !== "serial") return [];
    const log = (fault: SimulatedFault) =>
      renderCsv(
        simulateLog({
          model,
          serial: stored,
          seed: seedFrom(`to-try/${stored}`),
          fault,
          startUnixS: Date.parse(`${scenario.asOf}T06:00:00Z`) / 1000 - 4 * 86_400,
          ambientC: 14,
          cycleCount: 40,
          builtCapacityAh: build.capacityAh,
          builtGroupResistanceMilliohm: build.groupResistanceMilliohm,
        }),
        plainStyle,
      );
    return [
      { serial: stored, shown: groupSerial(reading.serial), revisionCode, soldOn: sold, groups: model.groups, log },
    ];
  });
}

const faultsToTry: readonly SimulatedFault[] = [
  { fault: "weak-cell", groups: [7], severity: "severe" },
  { fault: "sense-wire", groups: [4, 5], severity: "clear" },
  { fault: "temperature-sensor", groups: [], severity: "clear" },
  { fault: "no-fault-found", groups: [], severity: "clear" },
];

/** Writes, for every dealer with a login, a few packs and a readings file for each, and the list that names them. */
export function writePacksToTry(scenario: Scenario, folder: string): void {
  const readings = path.join(folder, "readings-to-try");
  mkdirSync(readings, { recursive: true });
  const lines = ["Packs to lodge a return for, each with a simulated readings file in readings-to-try/:", ""];
  for (const { name, dealerCode } of scenario.users) {
    if (dealerCode === null) continue;
    lines.push(`Signed in as ${name} (${dealerCode}):`);
    const newestFirst = packsToTry(scenario, dealerCode).reverse();
    for (const [position, fault] of faultsToTry.entries()) {
      const pack = newestFirst[position * 3];
      if (pack === undefined) continue;
      writeFileSync(path.join(readings, `${pack.serial}.csv`), pack.log(fault));
      lines.push(
        `  ${pack.shown}  ${pack.revisionCode}, sold on ${pack.soldOn}; simulated: ${fault.fault}; ${pack.serial}.csv`,
      );
    }
    lines.push("");
  }
  writeFileSync(path.join(folder, "packs-to-try.txt"), lines.join("\n"));
}
