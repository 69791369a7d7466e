import "server-only";
import { neededWatchHours } from "@/lib/receiving/watch-hours";
import {
  currentWatch,
  type WatchTask,
  type WatchVerdict,
  watchTasks,
  watchVerdict,
} from "@/lib/receiving/watch-readings";
import type { Prisma } from "@/prisma/generated/client";
import { stepsOfPack, toldSinceOf } from "../safety/told-since";

/** What the watch of a pack that came in rests on. */
export const watchedSelect = {
  arrivedAt: true,
  signs: true,
  boxCondition: true,
  return: {
    select: {
      reference: true,
      dangerSigns: true,
      conditions: true,
      pack: { select: { serial: true, tracks: stepsOfPack } },
    },
  },
  measurements: { select: { at: true, surfaceC: true, ambientC: true, terminalV: true, noVoltageBecause: true } },
  restarts: { select: { restartedAt: true } },
} as const satisfies Prisma.ArrivalSelect;

type WatchedArrival = Prisma.ArrivalGetPayload<{ select: typeof watchedSelect }>;

export function neededHoursOf({ return: told, signs: handSigns, boxCondition }: WatchedArrival): number {
  const wasToldSince = toldSinceOf(told.pack.tracks).length > 0;
  return neededWatchHours({ ...told, handSigns, boxCondition, wasToldSince });
}

/** The measurements of the watch that counts and what they say, as they stand now. */
export function watchNow(
  arrival: WatchedArrival,
  now: Date,
): { readonly startedAt: Date; readonly tasks: readonly WatchTask[]; readonly verdict: WatchVerdict } {
  const { arrivedAt, measurements, restarts } = arrival;
  const neededHours = neededHoursOf(arrival);
  const begun = restarts.map(({ restartedAt }) => restartedAt);
  const { startedAt, readings } = currentWatch(arrivedAt, begun, measurements);
  return {
    startedAt,
    tasks: watchTasks(startedAt, readings, neededHours, now),
    verdict: watchVerdict(readings, neededHours),
  };
}
