import { z } from "zod";

/** Thresholds a model brings of its own, by part and name; a number, or a range of two. */
export const modelThresholdsSchema = z.record(
  z.string(),
  z.record(z.string(), z.union([z.number(), z.tuple([z.number(), z.number()])])),
);

export type ModelThresholds = Readonly<z.infer<typeof modelThresholdsSchema>>;

/**
 * What the diagnosis must know of a pack model. The same object is stored with the model in the database and read from
 * MODEL.json by the command line. Units are in the names; percent of charge runs from 0 to 100.
 */
export const packModelSchema = z.object({
  groups: z.int().min(1).max(400),
  parallel: z.int().min(1).max(200).default(1),
  ratedCapacityAh: z.number().positive(),
  cellMaxV: z.number().positive(),
  cellMinV: z.number().positive(),
  continuousDischargeA: z.number().positive(),
  peakDischargeA: z.number().positive(),
  peakSeconds: z.number().positive(),
  chargeMaxA: z.number().positive(),
  chargeMinTemperatureC: z.number(),
  chargeMaxTemperatureC: z.number(),
  cyclesTo80Percent: z.number().positive(),
  /** Healthy resistance of one series group at about 10 s and 25 degC; may be unknown. */
  groupResistanceMilliohm: z.number().positive().optional(),
  /** Pairs [state of charge in %, rest voltage of one cell in V], rising in both; may be unknown. */
  openCircuit: z
    .array(z.tuple([z.number().min(0).max(100), z.number().positive()]))
    .min(2)
    .optional(),
  /**
   * Thresholds of the diagnosis this model wants otherwise, by part and name, e.g. { "verdict": { "imbalancePercent": 6 } }.
   * Names and their defaults: lib/diagnosis/diagnosis-settings.ts. May be left out.
   */
  diagnosis: modelThresholdsSchema.optional(),
});

export type PackModel = z.infer<typeof packModelSchema>;
