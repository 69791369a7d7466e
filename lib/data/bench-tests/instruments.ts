import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type Calibration, type CalibrationStanding, calibrationStanding } from "@/lib/bench-tests/calibration";
import { type AsFound, asFoundStates } from "@/lib/bench-tests/doubtful-result";
import type { NewCalibration, NewInstrument } from "@/lib/bench-tests/instrument.schema";
import { type InstrumentKind, readInstrumentKind } from "@/lib/bench-tests/instrument-kinds";
import type { KnownInstrument } from "@/lib/bench-tests/judge-entry";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { fromDateColumn, fromOptionalDateColumn, toDateColumn, toOptionalDateColumn } from "../calendar-columns";
import { asActor, type Transaction } from "../database";
import { breaksUnique } from "../unique-violation";

/** Certificates carry a day without a place; whoever compares them with today takes the same day everywhere. */
export const BENCH_ZONE = "UTC";

export interface KeptCalibration extends Calibration {
  readonly id: string;
  readonly asFound: AsFound | null;
  readonly certificate: string;
  readonly recordedByName: string;
}

export interface InstrumentView extends KnownInstrument<KeptCalibration> {
  readonly kind: InstrumentKind;
  readonly description: string;
  readonly standing: CalibrationStanding;
}

export type InstrumentAnswer =
  | { readonly ok: true }
  | {
      readonly ok: false;
      readonly reason: "not-allowed" | "code-taken" | "not-found" | "in-the-future";
      readonly sentence: string;
    };

/** Every instrument with its certificates, oldest first, and whether it may be used today; null where one may not ask. */
export async function listInstruments(actor: Actor, now = new Date()): Promise<InstrumentView[] | null> {
  if (!may(actor, "read-build-record")) return null;
  const today = civilDateAt(now, BENCH_ZONE);
  const instruments = await asActor(actor, readInstruments);
  return instruments.map((one) => ({ ...one, standing: calibrationStanding(one.code, one.calibrations, today) }));
}

export async function readInstruments(tx: Transaction) {
  const rows = await tx.instrument.findMany({
    orderBy: { code: "asc" },
    select: {
      code: true,
      kind: true,
      description: true,
      calibrations: { orderBy: [{ calibratedOn: "asc" }, { recordedAt: "asc" }] },
    },
  });
  return rows.map(({ code, kind, description, calibrations }) => ({
    code,
    description,
    kind: readInstrumentKind(kind),
    calibrations: calibrations.map(
      (one): KeptCalibration => ({
        id: one.id,
        outcome: one.outcome === "passed" ? "passed" : "out-of-use",
        asFound: asFoundStates.find((known) => known === one.asFound) ?? null,
        calibratedOn: fromDateColumn(one.calibratedOn),
        dueOn: fromOptionalDateColumn(one.dueOn),
        uncertaintyPercent: one.uncertaintyPercent,
        uncertaintyFloor: one.uncertaintyFloor,
        certificate: one.certificate,
        recordedByName: one.recordedByName,
      }),
    ),
  }));
}

/** Writes an instrument down. It is of no use before its first calibration. */
export async function addInstrument(
  actor: Actor,
  instrument: NewInstrument,
  now = new Date(),
): Promise<InstrumentAnswer> {
  if (!may(actor, "keep-instruments")) return notAllowed;
  try {
    await asActor(actor, (tx) =>
      tx.instrument.create({
        data: { ...instrument, addedByUserId: actor.userId, addedByName: actor.name, addedAt: now },
      }),
    );
    return { ok: true };
  } catch (error) {
    if (!breaksUnique(error, "Instrument_code_key")) throw error;
    return { ok: false, reason: "code-taken", sentence: "There is an instrument of this name already." };
  }
}

/** Adds a certificate, or that the instrument is out of use. Earlier certificates stay: results rest on them. */
export async function recordCalibration(
  actor: Actor,
  { code, calibratedOn, dueOn, ...certificate }: NewCalibration,
  now = new Date(),
): Promise<InstrumentAnswer> {
  if (!may(actor, "keep-instruments")) return notAllowed;
  if (calibratedOn > civilDateAt(now, BENCH_ZONE)) {
    return { ok: false, reason: "in-the-future", sentence: "The certificate is dated later than today." };
  }
  return asActor(actor, async (tx) => {
    const instrument = await tx.instrument.findUnique({ where: { code }, select: { id: true } });
    if (instrument === null) return { ok: false, reason: "not-found", sentence: "There is no such instrument." };
    await tx.calibration.create({
      data: {
        ...certificate,
        instrumentId: instrument.id,
        calibratedOn: toDateColumn(calibratedOn),
        dueOn: toOptionalDateColumn(dueOn),
        recordedByUserId: actor.userId,
        recordedByName: actor.name,
        recordedAt: now,
      },
    });
    return { ok: true };
  });
}

const notAllowed: InstrumentAnswer = {
  ok: false,
  reason: "not-allowed",
  sentence: "Instruments are kept by those who work at the bench.",
};
