/** A seeded stream of pseudo-random numbers: the same seed gives the same stream on every machine. Not for secrets. */
export interface SeededRandom {
  /** Uniform in [0, 1). */
  readonly next: () => number;
  /** Uniform in [low, high). */
  readonly between: (low: number, high: number) => number;
  /** Uniform integer in [low, high], both included. */
  readonly integer: (low: number, high: number) => number;
  /** True with the given probability. */
  readonly chance: (probability: number) => boolean;
  /** Normal with the given mean and standard deviation (Box-Muller). */
  readonly normal: (mean: number, deviation: number) => number;
  /** One element of a non-empty list. */
  readonly pick: <T>(list: readonly [T, ...T[]]) => T;
}

/** Builds a stream from a 32-bit seed with mulberry32 (T. Ettinger's public-domain generator, period 2^32). */
export function seededRandom(seed: number): SeededRandom {
  let state = seed >>> 0;
  let spare: number | null = null;

  function next(): number {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  }

  function normal(mean: number, deviation: number): number {
    if (spare !== null) {
      const kept = spare;
      spare = null;
      return mean + deviation * kept;
    }
    const radius = Math.sqrt(-2 * Math.log(1 - next()));
    const angle = 2 * Math.PI * next();
    spare = radius * Math.sin(angle);
    return mean + deviation * radius * Math.cos(angle);
  }

  return {
    next,
    between: (low, high) => low + (high - low) * next(),
    integer: (low, high) => low + Math.floor((high - low + 1) * next()),
    chance: (probability) => next() < probability,
    normal,
    pick: (list) => list[Math.floor(next() * list.length)] ?? list[0],
  };
}

/** A 32-bit seed from a text (FNV-1a), so that each thing has a stream of its own that no other thing disturbs. */
export function seedFrom(text: string): number {
  let hash = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) {
    hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
  }
  return hash >>> 0;
}
