import "server-only";
import { foundMiddle, packCapacities } from "@/lib/diagnosis/built-beside-found";
import { type HealthyPopulation, healthyPopulation } from "@/lib/diagnosis/healthy-population";
import { keptMeasurements } from "@/lib/diagnosis/kept-measurements";
import type { Transaction } from "../database";

/** Packs looked at: more would change a median by less than its own limits, and each is read whole. Engineering default. */
const MOST_BUILT = 120;
const MOST_RETURNED = 120;

/**
 * Sound packs of a revision, newest first, without the pack in question: built packs that never came back, and returned
 * ones whose return was decided without a confirmed failure. Only medians and counts leave this function.
 */
export async function readHealthyPopulation(
  tx: Transaction,
  revisionId: string,
  withoutPackId: string,
): Promise<HealthyPopulation> {
  const build = { select: { capacityAh: true, groupResistanceMilliohm: true } } as const;
  const builtOnly = await tx.pack.findMany({
    where: { revisionId, id: { not: withoutPackId }, returns: { none: {} } },
    select: { build },
    orderBy: { builtOn: "desc" },
    take: MOST_BUILT,
  });
  const returned = await tx.return.findMany({
    where: {
      pack: { revisionId, id: { not: withoutPackId }, returns: { none: { decision: { confirmedFailure: true } } } },
      decision: { confirmedFailure: false },
    },
    select: {
      pack: { select: { id: true, build } },
      readingFile: {
        select: {
          suggestion: { select: { ruleVersion: true } },
          measurements: {
            where: { OR: [{ name: { startsWith: "resistance-" } }, { name: { contains: "capacity" } }] },
            select: {
              name: true,
              group: true,
              value: true,
              unit: true,
              uncertainty: true,
              method: true,
              conditions: true,
            },
          },
        },
      },
    },
    orderBy: { lodgedAt: "desc" },
    take: MOST_RETURNED,
  });
  const soundReturned = new Map(returned.map((row) => [row.pack.id, row]));
  return healthyPopulation([
    ...builtOnly.map((pack) => ({ ...builtOf(pack.build), foundMiddleMilliohm: {}, foundCapacityAh: null })),
    ...[...soundReturned.values()].map(({ pack, readingFile }) => {
      const judgedBy = readingFile?.suggestion?.ruleVersion ?? null;
      const measurements = keptMeasurements(readingFile?.measurements ?? [], judgedBy);
      const middle = foundMiddle(measurements);
      return {
        ...builtOf(pack.build),
        foundMiddleMilliohm: middle === null ? {} : { [middle.name]: middle.milliohm },
        foundCapacityAh: packCapacities(measurements)[0]?.value ?? null,
      };
    }),
  ]);
}

function builtOf(build: { readonly capacityAh: number; readonly groupResistanceMilliohm: readonly number[] } | null) {
  return { capacityAh: build?.capacityAh ?? null, groupResistanceMilliohm: build?.groupResistanceMilliohm ?? [] };
}
