import type { Limits } from "@/lib/stats/survival-limits";

/** Only what the limits of the shape bear out. */
export function hazardWords({ lower, upper }: Limits): string {
  if (lower > 1) return "Packs fail more often the older they get.";
  if (upper < 1) return "Packs fail most often when new, then less.";
  return "Whether packs fail more or less often as they age cannot be told yet.";
}
