import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { groupSerial, readSerial } from "@/lib/packs/serial";
import { serialSentence } from "@/lib/packs/serial-sentence";
import { withoutGrouping } from "@/lib/packs/typed-code";
import { readReturnReference } from "@/lib/returns/return-reference";
import { isOpenStatus } from "@/lib/returns/return-status";
import { isSetApart, readSafetyState } from "@/lib/returns/safety-track";
import { asActor, type Transaction } from "../database";

export type FoundReturn =
  | { readonly kind: "found"; readonly reference: string }
  | { readonly kind: "not-found"; readonly sentence: string };

/**
 * The return that somebody typed or scanned a reference or a serial for: a serial opens the return of the pack that is
 * still open, else its latest. Where there is none, one sentence says what to check.
 */
export async function findReturn(actor: Actor, typed: string): Promise<FoundReturn> {
  if (!may(actor, "read-queue")) return notFound("There is no such return for you.");
  const reference = readReturnReference(typed);
  if (reference.kind === "reference") return findByReference(actor, reference.reference);
  const serial = readSerial(typed);
  if (serial.kind === "serial") return findBySerial(actor, serial.serial);
  if (serial.kind === "empty") return notFound("Scan or type a reference or a serial.");
  if (reference.kind === "check-failed" || looksLikeReference(typed)) {
    return notFound("This is no reference: compare it with R-26-00417-S, its last character checks the others.");
  }
  return notFound(serialSentence(serial));
}

/** Serials of all models begin with two letters; R and a digit was meant for a reference. */
function looksLikeReference(typed: string): boolean {
  return /^R[0-9]/.test(withoutGrouping(typed));
}

async function findByReference(actor: Actor, reference: string): Promise<FoundReturn> {
  const row = await asActor(actor, (tx) => tx.return.findUnique({ where: { reference }, select: { reference: true } }));
  return row === null
    ? notFound(`No return has the reference ${reference}. Its check character is right, so it may be of another house.`)
    : { kind: "found", reference: row.reference };
}

async function findBySerial(actor: Actor, serial: Parameters<typeof groupSerial>[0]): Promise<FoundReturn> {
  const { pack, setApart } = await asActor(actor, async (tx) => {
    const pack = await tx.pack.findUnique({
      where: { serial },
      select: { id: true, returns: { select: { reference: true, status: true }, orderBy: { lodgedAt: "desc" } } },
    });
    return { pack, setApart: pack === null || pack.returns.length > 0 ? null : await whySetApart(tx, pack.id) };
  });
  const shown = groupSerial(serial);
  if (pack === null) return notFound(`No pack with the serial ${shown} is known. Compare it with the label once more.`);
  const open = pack.returns.find(({ status }) => isOpenStatus(status));
  const chosen = open ?? pack.returns[0];
  return chosen === undefined
    ? notFound(`The pack ${shown} is known, and no return of it was ever lodged.${setApart ?? ""}`)
    : { kind: "found", reference: chosen.reference };
}

/** A danger can be known before a return is sent; then this is where the house reads it. */
async function whySetApart(tx: Transaction, packId: string): Promise<string | null> {
  const track = await tx.track.findFirst({
    where: { packId, track: "safety" },
    select: {
      state: true,
      moves: { orderBy: { sequence: "desc" }, take: 1, select: { reason: true, actorName: true } },
    },
  });
  const [last] = track?.moves ?? [];
  if (track === null || last === undefined || !isSetApart(readSafetyState(track.state))) return null;
  return ` It is set apart: ${last.reason} By ${last.actorName}.`;
}

function notFound(sentence: string): FoundReturn {
  return { kind: "not-found", sentence };
}
