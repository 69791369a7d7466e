/**
 * Uniform numbers in [0, 1) from a seed: mulberry32 (Tommy Ettinger, public domain), period 2^32. The same numbers on every
 * machine, so that what rests on draws reads the same tomorrow.
 */
export function seededRandom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}
