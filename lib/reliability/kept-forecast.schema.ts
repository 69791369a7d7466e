import { z } from "zod";

const covariance = z.object({ varianceMu: z.number(), varianceLogSigma: z.number(), covariance: z.number() });

const quietAges = z.object({
  from: z.number(),
  to: z.number().nullable(),
  failures: z.number(),
  exposure: z.number(),
});

const coverBasisSchema = z.object({
  failures: z.number(),
  law: z.union([
    z.object({
      shape: z.number(),
      scale: z.number(),
      largestAge: z.number(),
      doubt: covariance,
      // Missing in forecasts kept before a part could be foretold of.
      part: z.object({ share: z.number(), doubt: z.array(z.array(z.number())) }).nullish(),
      // Missing in forecasts kept before a shape was lent.
      lent: z
        .object({
          failures: z.number(),
          ofLenders: z.number(),
          points: z.array(
            z.object({
              ...{ shape: z.number(), weight: z.number(), exposure: z.number() },
              // Missing in forecasts kept before the upper limit rested on it.
              ownExposure: z.number().optional(),
            }),
          ),
        })
        .nullish(),
      // Missing in forecasts kept before the likelihood itself was taken for the doubt.
      likely: z
        .object({
          failures: z.number(),
          points: z.array(z.object({ shape: z.number(), weight: z.number(), exposure: z.number() })),
        })
        .nullish(),
      // Missing in forecasts kept before others than the part were allowed for.
      quiet: z.object({ before: quietAges.nullable(), after: quietAges.nullable() }).nullish(),
    }),
    z.object({ refused: z.enum(["nothing-running", "too-few-failures", "no-law"]) }),
  ]),
  running: z.array(z.object({ ageDays: z.number(), coverLeftDays: z.number().nullable(), packs: z.number() })),
  hidden: z.array(z.object({ ageDays: z.number(), packs: z.number() })),
});

/**
 * What a forecast rested on, as it is kept: enough to tell from it again what was expected of any period since. `returns` is what
 * first returns were foretold from, `again` what the next failures of packs put right were, null where none was in use again; each is
 * missing in forecasts kept before it was kept.
 */
export const keptBasisSchema = coverBasisSchema.extend({
  returns: coverBasisSchema.nullish(),
  again: coverBasisSchema.nullish(),
});

/** The cost of one failure as it was held to be; amounts in the smallest unit of the forecast's currency. */
export const keptCostSchema = z.object({
  mean: z.number(),
  relativeError: z.number(),
  amounts: z.array(z.object({ share: z.number(), mean: z.number(), spread: z.number() })),
});

export type KeptCost = z.output<typeof keptCostSchema>;
