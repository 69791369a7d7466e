import { seededRandom } from "@/lib/stats/seeded-random";
import { buildLog, evenTimes, type LogParts, probe } from "./log-builder";

const groups = 16;

/** What is done to a parked pack: by row and group or probe, from 0; left out what stays as it is. */
export interface DoneToParked {
  readonly cellV?: (row: number, group: number) => number;
  readonly warmK?: (row: number, place: number) => number;
  readonly packV?: (row: number) => number;
  readonly parts?: (rows: number) => Partial<LogParts>;
}

/**
 * Sixteen groups near 3.8 V and three probes near 22 degC at rest, with the noise of a sensor in the last digit; the pack voltage
 * adds up what the groups truly do, which is `cellV`, and `packV` is done to it alone.
 */
export function parkedPack(
  rows: number,
  intervalS: number,
  { cellV = () => 0, warmK = () => 0, packV = () => 0, parts = () => ({}) }: DoneToParked,
) {
  const noise = seededRandom(7);
  const flicker = (amplitude: number) => (noise() - 0.5) * 2 * amplitude;
  const rounded = (value: number, step: number) => Math.round(value / step) * step;
  const column = (read: (row: number) => number) => Float64Array.from({ length: rows }, (_, row) => read(row));
  const truly = (row: number, group: number) => 3.8 + 0.002 * Math.sin(group) + cellV(row, group);
  return buildLog({
    timeS: evenTimes(rows, intervalS),
    currentA: column(() => rounded(flicker(0.03), 0.01)),
    packVoltageV: column((row) => {
      let sum = packV(row) + flicker(0.02);
      for (let group = 0; group < groups; group += 1) sum += truly(row, group);
      return rounded(sum, 0.01);
    }),
    cellVoltagesV: Array.from({ length: groups }, (_, group) =>
      column((row) => rounded(truly(row, group) + flicker(0.0012), 0.001)),
    ),
    temperatures: [0, 1, 2].map((place) =>
      probe(
        `Temperature T${place + 1}`,
        column((row) => rounded(22 + warmK(row, place) + flicker(0.1), 0.1)),
      ),
    ),
    ...parts(rows),
  });
}
