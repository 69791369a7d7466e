import { seededNormal, seededRandom } from "../../support/seeded-random";

/** A seeded stream with the draws a simulated pack needs. The same seed gives the same pack on every machine. */
export interface Chance {
  uniform(): number;
  between(low: number, high: number): number;
  integer(low: number, high: number): number;
  /** True with the given probability. */
  happens(probability: number): boolean;
  normal(sd: number): number;
  pick<T>(list: readonly [T, ...T[]]): T;
}

export function chanceFrom(seed: number): Chance {
  const uniform = seededRandom(Math.imul(seed, 2654435761) ^ 0x5bd1e995);
  const normal = seededNormal(uniform);
  return {
    uniform,
    between: (low, high) => low + (high - low) * uniform(),
    integer: (low, high) => low + Math.floor((high - low + 1) * uniform()),
    happens: (probability) => uniform() < probability,
    normal: (sd) => sd * normal(),
    pick: (list) => list[Math.floor(uniform() * list.length)] ?? list[0],
  };
}
