import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { hoursToStay, isOverdue, loadOf, type PlaceLoad } from "@/lib/receiving/quarantine";
import { neededWatchHours } from "@/lib/receiving/watch-hours";
import {
  currentWatch,
  type WatchReading,
  type WatchTask,
  type WatchVerdict,
  watchTasks,
  watchVerdict,
} from "@/lib/receiving/watch-readings";
import { asActor } from "./database";
import { shownSerial } from "./pack-words";
import { stepsOfPack, toldSinceOf } from "./told-since";

export interface StayView {
  readonly reference: string;
  readonly serialShown: string;
  readonly energyKwh: number;
  readonly placedAt: Date;
  readonly earliestOut: Date;
  readonly overdue: boolean;
  readonly tasks: readonly WatchTask[];
  readonly verdict: WatchVerdict;
  readonly identityOpen: boolean;
}

export interface PlaceView {
  readonly code: string;
  readonly whereItIs: string;
  readonly maxPacks: number;
  readonly maxEnergyKwh: number;
  readonly minimumHours: number;
  readonly load: PlaceLoad;
  readonly stays: readonly StayView[];
}

export interface QuarantineBoard {
  readonly places: readonly PlaceView[];
  /** Everything that somebody must act on now, the gravest first, in a sentence each. */
  readonly alarms: readonly { readonly reference: string | null; readonly grave: boolean; readonly sentence: string }[];
}

/** Every place with what lies in it and what is due; null for those who do not work there. */
export async function readQuarantineBoard(actor: Actor, now = new Date()): Promise<QuarantineBoard | null> {
  if (!may(actor, "read-build-record")) return null;
  const rows = await asActor(actor, (tx) =>
    tx.quarantinePlace.findMany({
      orderBy: { code: "asc" },
      select: {
        code: true,
        whereItIs: true,
        maxPacks: true,
        maxEnergyKwh: true,
        minimumHours: true,
        overdueAfterHours: true,
        stays: {
          where: { releasedAt: null },
          orderBy: { placedAt: "asc" },
          select: {
            energyKwh: true,
            placedAt: true,
            arrival: {
              select: {
                arrivedAt: true,
                signs: true,
                boxCondition: true,
                identity: true,
                settlement: { select: { arrivalId: true } },
                return: {
                  select: {
                    reference: true,
                    dangerSigns: true,
                    conditions: true,
                    pack: { select: { serial: true, tracks: stepsOfPack } },
                  },
                },
                measurements: {
                  select: { at: true, surfaceC: true, ambientC: true, terminalV: true, noVoltageBecause: true },
                },
                restarts: { select: { restartedAt: true } },
              },
            },
          },
        },
      },
    }),
  );
  const places = rows.map(({ stays, overdueAfterHours, ...place }) => ({
    ...place,
    load: loadOf({ ...place, overdueAfterHours }, stays),
    stays: stays.map(({ energyKwh, placedAt, arrival }) => ({
      reference: arrival.return.reference,
      serialShown: shownSerial(arrival.return.pack.serial),
      energyKwh,
      placedAt,
      earliestOut: new Date(placedAt.getTime() + hoursToStay(place, neededHoursOf(arrival)) * 3_600_000),
      overdue: isOverdue({ ...place, overdueAfterHours }, placedAt, now),
      ...watchNow(arrival, now),
      identityOpen: arrival.identity !== "match" && arrival.settlement === null,
    })),
  }));
  return { places, alarms: alarmsOf(places) };
}

interface WatchedArrival {
  readonly arrivedAt: Date;
  readonly signs: readonly string[];
  readonly boxCondition: string;
  readonly return: {
    readonly dangerSigns: readonly string[];
    readonly conditions: readonly string[];
    readonly pack: { readonly tracks: Parameters<typeof toldSinceOf>[0] };
  };
  readonly measurements: readonly WatchReading[];
  readonly restarts: readonly { readonly restartedAt: Date }[];
}

function neededHoursOf({
  return: told,
  signs: handSigns,
  boxCondition,
}: Pick<WatchedArrival, "return" | "signs" | "boxCondition">): number {
  const wasToldSince = toldSinceOf(told.pack.tracks).length > 0;
  return neededWatchHours({ ...told, handSigns, boxCondition, wasToldSince });
}

function watchNow(arrival: WatchedArrival, now: Date) {
  const { arrivedAt, measurements, restarts } = arrival;
  const neededHours = neededHoursOf(arrival);
  const begun = restarts.map(({ restartedAt }) => restartedAt);
  const { startedAt, readings } = currentWatch(arrivedAt, begun, measurements);
  return { tasks: watchTasks(startedAt, readings, neededHours, now), verdict: watchVerdict(readings, neededHours) };
}

function alarmsOf(places: readonly PlaceView[]): QuarantineBoard["alarms"] {
  const ofPlaces = places.flatMap(({ code, load, maxPacks, maxEnergyKwh }) => [
    ...(load.overPacks
      ? [{ reference: null, grave: true, sentence: `${code} holds ${load.packs} packs; its limit is ${maxPacks}.` }]
      : []),
    ...(load.overEnergy
      ? [
          {
            reference: null,
            grave: true,
            sentence: `${code} holds ${load.energyKwh.toFixed(1)} kWh; its limit is ${maxEnergyKwh.toFixed(1)} kWh.`,
          },
        ]
      : []),
  ]);
  const ofStays = places.flatMap(({ code, stays }) =>
    stays.flatMap((stay) => [
      ...(stay.verdict.kind === "alarm"
        ? [{ reference: stay.reference, grave: true, sentence: `${code}: ${stay.verdict.because.join(" ")}` }]
        : []),
      ...(stay.tasks.some(({ state }) => state === "overdue")
        ? [{ reference: stay.reference, grave: false, sentence: `${code}: a measurement is overdue.` }]
        : []),
      ...(stay.overdue
        ? [{ reference: stay.reference, grave: false, sentence: `${code}: it lies here longer than is allowed for.` }]
        : []),
      ...(stay.identityOpen
        ? [{ reference: stay.reference, grave: false, sentence: `${code}: nobody has settled which pack this is.` }]
        : []),
    ]),
  );
  return [...ofPlaces, ...ofStays].sort((a, b) => Number(b.grave) - Number(a.grave));
}
