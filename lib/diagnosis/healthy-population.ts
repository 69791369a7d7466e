import { median, scaledMad } from "@/lib/readings/measure/median";

/** One pack that counts as sound: built values, and what its readings gave if it was returned and no failure confirmed. */
export interface SoundPack {
  readonly capacityAh: number | null;
  readonly groupResistanceMilliohm: readonly number[];
  /** Median over the groups, by the name of the measurement; empty for a pack that was never read. */
  readonly foundMiddleMilliohm: Readonly<Record<string, number>>;
  readonly foundCapacityAh: number | null;
}

/** A value over several packs. `scaledMad` is 1.4826 times the median absolute deviation, the robust standard deviation. */
export interface OverPacks {
  readonly median: number;
  readonly scaledMad: number;
  readonly packs: number;
}

export type HealthyPopulation =
  | {
      readonly outcome: "known";
      readonly builtCapacityAh: OverPacks | null;
      readonly builtGroupMilliohm: OverPacks | null;
      readonly foundCapacityAh: OverPacks | null;
      /** By the name of the measurement; only kinds that enough packs have. */
      readonly foundMiddleMilliohm: Readonly<Record<string, OverPacks>>;
      readonly packs: number;
    }
  | { readonly outcome: "too-few"; readonly packs: number; readonly sentence: string };

/**
 * Packs below which a population says nothing. With 8 the lowest and highest span both quartiles with a probability of
 * 80 % (1 - 2 · 0.75^8 + 0.5^8, order statistics); that this is enough is an engineering default.
 */
export const LEAST_SOUND_PACKS = 8;

/**
 * What sound packs of one revision are like: median and scaled MAD of their built values, and of what was found in those
 * that came back without a confirmed failure. Each figure carries its own count and is null below eight packs. With fewer
 * than eight packs in all the answer is "too few", never a figure.
 */
export function healthyPopulation(sound: readonly SoundPack[]): HealthyPopulation {
  if (sound.length < LEAST_SOUND_PACKS) {
    return {
      outcome: "too-few",
      packs: sound.length,
      sentence: `There are too few sound packs of this revision to compare with (${sound.length}; ${LEAST_SOUND_PACKS} are needed).`,
    };
  }
  const names = new Set(sound.flatMap(({ foundMiddleMilliohm }) => Object.keys(foundMiddleMilliohm)));
  const found = [...names].flatMap((name) => {
    const over = overPacks(sound.map(({ foundMiddleMilliohm }) => foundMiddleMilliohm[name] ?? null));
    return over === null ? [] : [[name, over] as const];
  });
  return {
    outcome: "known",
    builtCapacityAh: overPacks(sound.map(({ capacityAh }) => capacityAh)),
    builtGroupMilliohm: overPacks(sound.map(({ groupResistanceMilliohm }) => median(groupResistanceMilliohm))),
    foundCapacityAh: overPacks(sound.map(({ foundCapacityAh }) => foundCapacityAh)),
    foundMiddleMilliohm: Object.fromEntries(found),
    packs: sound.length,
  };
}

function overPacks(values: readonly (number | null)[]): OverPacks | null {
  const known = values.filter((value): value is number => value !== null && Number.isFinite(value));
  if (known.length < LEAST_SOUND_PACKS) return null;
  const middle = median(known);
  return middle === null ? null : { median: middle, scaledMad: scaledMad(known) ?? 0, packs: known.length };
}
