import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { missingFaces, type PhotoView } from "@/lib/receiving/pack-faces";
import { hoursToStay } from "@/lib/receiving/quarantine";
import { neededWatchHours } from "@/lib/receiving/watch-hours";
import {
  currentWatch,
  type WatchReading,
  type WatchTask,
  type WatchVerdict,
  watchTasks,
  watchVerdict,
} from "@/lib/receiving/watch-readings";
import { mayComeIn } from "@/lib/returns/custody-track";
import { readReturnReference } from "@/lib/returns/return-reference";
import { asActor } from "../database";
import { type PhotoCard, photoCard, photoSelect } from "../packs/pack-photos";
import { shownSerial } from "../packs/pack-words";
import { readPackTracks } from "../returns/track-rows";
import { readToldSince } from "../safety/told-since";
import { readEnergyInBoxKwh } from "./energy-in-box";
import { type FoundPack, liesHereAsFound, readFoundPacks } from "./found-pack";

export interface ReceivedPack {
  readonly reference: string;
  readonly serialShown: string;
  readonly modelName: string;
  readonly energyKwh: number;
  readonly photos: readonly PhotoCard[];
  readonly missingFaces: readonly PhotoView[];
  /** Since when photographs of the faces count, where it is not the first arrival under this return. */
  readonly cameAgainAt: Date | null;
  /** Expected on its way; not announced, and not here either; found here under another return; or here (or gone for good) as far as the record goes. */
  readonly comes: "expected" | "unannounced" | "found" | "here";
  /** Other packs that came in its box and still lie under this return. */
  readonly found: readonly FoundPack[];
  /** The latest time it came in; null until then. */
  readonly arrival: {
    readonly arrivedAt: Date;
    readonly receivedByName: string;
    readonly identity: string;
    readonly foundSerialShown: string | null;
    readonly scanned: string;
    readonly boxCondition: string;
    readonly signs: readonly string[];
    readonly insulationMegaohm: number | null;
    readonly note: string;
    readonly settlement: { readonly how: string; readonly settledByName: string } | null;
    readonly readings: readonly (WatchReading & { readonly byName: string })[];
    /** Each time the watch began anew, the oldest first; tasks and verdict are of the last one. */
    readonly restarts: readonly { readonly restartedAt: Date; readonly reason: string; readonly byName: string }[];
    /** How long it is watched, by what happened to it, and when that ends for the watch that runs. */
    readonly neededHours: number;
    readonly watchedUntil: Date;
    readonly tasks: readonly WatchTask[];
    readonly verdict: WatchVerdict;
    readonly stay: {
      readonly placeCode: string;
      readonly placedAt: Date;
      readonly minimumHours: number;
      readonly releasedAt: Date | null;
      readonly releasedByName: string | null;
    } | null;
  } | null;
  readonly placeCodes: readonly string[];
}

/** Goods-in of one return: what came, how it was photographed, where it lies, how it behaves. */
export async function readReceivedPack(
  actor: Actor,
  typedReference: string,
  now = new Date(),
): Promise<ReceivedPack | null> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference" || !may(actor, "read-build-record")) return null;
  return asActor(actor, async (tx) => {
    const row = await tx.return.findUnique({
      where: { reference: reading.reference },
      select: {
        id: true,
        reference: true,
        status: true,
        packId: true,
        dangerSigns: true,
        conditions: true,
        pack: {
          select: {
            serial: true,
            revision: { select: { model: { select: { code: true, name: true } } } },
          },
        },
        _count: { select: { arrivals: true } },
        photos: { select: photoSelect, orderBy: { takenAt: "asc" } },
        arrivals: {
          orderBy: { arrivedAt: "desc" },
          take: 1,
          include: {
            settlement: { select: { outcome: true, how: true, settledByName: true } },
            measurements: {
              orderBy: { at: "asc" },
              select: {
                at: true,
                surfaceC: true,
                ambientC: true,
                terminalV: true,
                noVoltageBecause: true,
                byName: true,
              },
            },
            restarts: {
              orderBy: { restartedAt: "asc" },
              select: { restartedAt: true, reason: true, byName: true },
            },
            stays: {
              orderBy: { placedAt: "desc" },
              take: 1,
              select: {
                placedAt: true,
                releasedAt: true,
                releasedByName: true,
                place: { select: { code: true, minimumHours: true } },
              },
            },
          },
        },
      },
    });
    if (row === null) return null;
    const { custody } = await readPackTracks(tx, row.packId);
    const places = await tx.quarantinePlace.findMany({ select: { code: true }, orderBy: { code: "asc" } });
    const { model } = row.pack.revision;
    const [arrival] = row.arrivals;
    const cameAgainAt = row._count.arrivals > 1 ? (arrival?.arrivedAt ?? null) : null;
    const [stay] = arrival?.stays ?? [];
    const neededHours = neededWatchHours({
      ...row,
      handSigns: arrival?.signs ?? [],
      boxCondition: arrival?.boxCondition ?? null,
      wasToldSince: (await readToldSince(tx, row.packId)).length > 0,
    });
    const begun = arrival?.restarts.map(({ restartedAt }) => restartedAt) ?? [];
    const watch = currentWatch(arrival?.arrivedAt ?? now, begun, arrival?.measurements ?? []);
    return {
      reference: row.reference,
      serialShown: shownSerial(row.pack.serial),
      modelName: model.name,
      energyKwh: await readEnergyInBoxKwh(tx, model.code, arrival ?? null),
      photos: row.photos.map(photoCard),
      comes:
        row.status === "return-expected"
          ? "expected"
          : mayComeIn(custody.state)
            ? "unannounced"
            : (await liesHereAsFound(tx, row.packId, row.id))
              ? "found"
              : "here",
      found: await readFoundPacks(tx, row.id),
      missingFaces: missingFaces(row.photos, cameAgainAt),
      cameAgainAt,
      arrival:
        arrival === undefined
          ? null
          : {
              arrivedAt: arrival.arrivedAt,
              receivedByName: arrival.receivedByName,
              identity: arrival.identity,
              foundSerialShown: arrival.foundSerial === null ? null : shownSerial(arrival.foundSerial),
              scanned: arrival.scanned,
              boxCondition: arrival.boxCondition,
              signs: arrival.signs,
              insulationMegaohm: arrival.insulationMegaohm,
              note: arrival.note,
              settlement: arrival.settlement,
              readings: arrival.measurements,
              restarts: arrival.restarts,
              watchedUntil: new Date(watch.startedAt.getTime() + neededHours * 3_600_000),
              neededHours,
              tasks: watchTasks(watch.startedAt, watch.readings, neededHours, now),
              verdict: watchVerdict(watch.readings, neededHours),
              stay:
                stay === undefined
                  ? null
                  : {
                      placeCode: stay.place.code,
                      placedAt: stay.placedAt,
                      minimumHours: hoursToStay(stay.place, neededHours),
                      releasedAt: stay.releasedAt,
                      releasedByName: stay.releasedByName,
                    },
            },
      placeCodes: places.map(({ code }) => code),
    };
  });
}
