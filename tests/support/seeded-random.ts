export { seededRandom } from "@/lib/stats/seeded-random";

/** Standard normal numbers by Box and Muller. */
export function seededNormal(uniform: () => number): () => number {
  return () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
}
