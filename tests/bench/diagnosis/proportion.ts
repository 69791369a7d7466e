import beta from "@stdlib/stats-base-dists-beta";

/** "0.953 (0.921 to 0.975; 283 of 297)": a share with its exact 95 % limits (Clopper and Pearson 1934) and its count. */
export function sayShare(hits: number, of: number): string {
  if (of === 0) return "none to judge";
  const low = hits === 0 ? 0 : beta.quantile(0.025, hits, of - hits + 1);
  const high = hits === of ? 1 : beta.quantile(0.975, hits + 1, of - hits);
  return `${(hits / of).toFixed(3)} (${low.toFixed(3)} to ${high.toFixed(3)}; ${hits} of ${of})`;
}
