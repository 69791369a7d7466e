import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { hoursToStay, isOverdue, loadOf, type PlaceLoad } from "@/lib/receiving/quarantine";
import type { WatchTask, WatchVerdict } from "@/lib/receiving/watch-readings";
import { asActor, type Transaction } from "../database";
import { shownSerial } from "../packs/pack-words";
import { neededHoursOf, watchedSelect, watchNow } from "./watched-arrival";

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
  /** A legal hold lies on the pack: nothing of it is destroyed or given away. */
  readonly isHeld: boolean;
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
  const { rows, held } = await asActor(actor, async (tx) => {
    const rows = await tx.quarantinePlace.findMany({
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
              select: { ...watchedSelect, identity: true, settlement: { select: { arrivalId: true } } },
            },
          },
        },
      },
    });
    return { rows, held: await readHeldSerials(tx) };
  });
  const places = rows.map(({ stays, overdueAfterHours, ...place }) => ({
    ...place,
    load: loadOf({ ...place, overdueAfterHours }, stays),
    stays: stays.map(({ energyKwh, placedAt, arrival }) => ({
      reference: arrival.return.reference,
      serialShown: shownSerial(arrival.return.pack.serial),
      energyKwh,
      placedAt,
      earliestOut: new Date(placedAt.getTime() + hoursToStay(place, neededHoursOf(arrival)) * 3_600_000),
      overdue: isOverdue({ ...place, overdueAfterHours }, neededHoursOf(arrival), placedAt, now),
      ...watchNow(arrival, now),
      identityOpen: arrival.identity !== "match" && arrival.settlement === null,
      isHeld: held.has(arrival.return.pack.serial),
    })),
  }));
  return { places, alarms: alarmsOf(places) };
}

/** A measurement that was missed is grave: nobody knows whether the pack warms. */
function sayOverdue(code: string, { reference, tasks }: StayView): QuarantineBoard["alarms"] {
  const missed = tasks.filter(({ state }) => state === "overdue").map(({ afterHours }) => `${afterHours} h`);
  if (missed.length === 0) return [];
  const sentence = `${code}: not measured in time after ${missed.join(" and ")}. Measure it now, or begin the watch anew.`;
  return [{ reference, grave: true, sentence }];
}

/** Serials of the packs in quarantine that a legal hold lies on. */
async function readHeldSerials(tx: Transaction): Promise<ReadonlySet<string>> {
  const inQuarantine = { returns: { some: { arrivals: { some: { stays: { some: { releasedAt: null } } } } } } };
  const holds = await tx.track.findMany({
    where: { track: "hold", state: "held", pack: inQuarantine },
    select: { pack: { select: { serial: true } } },
  });
  return new Set(holds.flatMap(({ pack }) => (pack === null ? [] : [pack.serial])));
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
      ...sayOverdue(code, stay),
      ...(stay.overdue
        ? [{ reference: stay.reference, grave: false, sentence: `${code}: it has been here longer than is allowed.` }]
        : []),
      ...(stay.identityOpen
        ? [{ reference: stay.reference, grave: false, sentence: `${code}: nobody has settled which pack this is.` }]
        : []),
    ]),
  );
  return [...ofPlaces, ...ofStays].sort((a, b) => Number(b.grave) - Number(a.grave));
}
