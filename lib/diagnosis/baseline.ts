import { z } from "zod";
import type { HealthyPopulation } from "@/lib/diagnosis/healthy-population";

/**
 * What a pack was like when it was built: the end-of-line record of the pack itself. The same object is stored with the
 * pack and read from BUILD.json by the command line; whatever was not recorded may be missing.
 */
export const builtValuesSchema = z.object({
  capacityAh: z.number().positive().optional(),
  loadTestCurrentA: z.number().positive().optional(),
  loadTestSagV: z.number().nonnegative().optional(),
  /** One value for each series group, group 1 first. */
  groupResistanceMilliohm: z.array(z.number().nonnegative()).max(400).readonly().optional(),
  matchingSpreadMillivolt: z.number().nonnegative().optional(),
});
export type BuiltValues = z.infer<typeof builtValuesSchema>;

/** What the diagnosis compares a log with: the pack's own record where there is one, and sound packs of its revision. */
export interface Baseline {
  readonly built: BuiltValues | null;
  readonly population: HealthyPopulation | null;
  /** Whether the revision is potted; null where that is unknown. */
  readonly potted: boolean | null;
}
