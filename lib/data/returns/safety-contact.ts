import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type ContactEventKind, readContactEvent } from "@/lib/returns/contact-events";
import { readReturnReference } from "@/lib/returns/return-reference";
import { asActor, asSystem, type Transaction } from "../database";
import { whyContactStays } from "./end-contacts";
import { openContact, sealContact } from "./seal-contact";

export interface ContactView {
  /** Somebody gave one, and it was not erased. */
  readonly isKept: boolean;
  readonly givenAt: Date | null;
  readonly givenByName: string | null;
  /** The contact itself, for its own dealer alone; the house asks for it and leaves an entry. */
  readonly own: string | null;
  readonly mayKeep: boolean;
  readonly mayReveal: boolean;
  /** Why it must stay for now, as a sentence; null where its dealer may erase it. */
  readonly staysBecause: string | null;
  readonly events: readonly { readonly kind: ContactEventKind; readonly byName: string; readonly at: Date }[];
  readonly reveals: readonly { readonly byName: string; readonly why: string; readonly at: Date }[];
}

export type ContactAnswer =
  | { readonly ok: true }
  | { readonly ok: false; readonly reason: "not-allowed" | "not-found" | "must-stay"; readonly sentence: string };

export type RevealAnswer = { readonly ok: true; readonly contact: string } | Extract<ContactAnswer, { ok: false }>;

const notFound = { ok: false, reason: "not-found", sentence: "There is no such contact for you." } as const;
const notAllowed = {
  ok: false,
  reason: "not-allowed",
  sentence: "A customer's contact is the dealer's; the service lead and the safety officer ask for it with a reason.",
} as const;

const findReturn = (tx: Transaction, reference: string) =>
  tx.return.findUnique({ where: { reference }, select: { id: true } });

/** What is kept of a customer's contact, and who looked; null where the return or the contact is none of theirs. */
export async function readSafetyContact(actor: Actor, typed: string): Promise<ContactView | null> {
  const reading = readReturnReference(typed);
  const isOwn = may(actor, "read-own-contact");
  if (reading.kind !== "reference" || !(isOwn || may(actor, "reveal-contact") || may(actor, "read-reveals")))
    return null;
  // As the system: a manager sees that there is one without seeing any of it, and what keeps it may be another dealer's.
  const kept = await asSystem((tx) => readKept(tx, reading.reference));
  return asActor(actor, async (tx) => {
    const row = await findReturn(tx, reading.reference);
    if (row === null || kept === null) return null;
    const given = await tx.safetyContact.findUnique({ where: { returnId: row.id } });
    const key = await tx.safetyContactKey.findUnique({ where: { returnId: row.id } });
    const reveals = await tx.safetyContactReveal.findMany({
      where: { returnId: row.id },
      orderBy: { at: "desc" },
      select: { byName: true, why: true, at: true },
    });
    const { isKept } = kept;
    return {
      ...kept,
      own: isOwn && isKept && given !== null && key !== null ? openContact({ ...given, key: key.key }) : null,
      mayKeep: isOwn,
      mayReveal: isKept && may(actor, "reveal-contact"),
      reveals,
    };
  });
}

/** What is kept for a return, without the contact itself. */
async function readKept(tx: Transaction, reference: string) {
  const row = await tx.return.findUnique({
    where: { reference },
    select: {
      id: true,
      safetyContact: {
        select: {
          sealed: true,
          givenAt: true,
          givenByName: true,
          events: { orderBy: [{ at: "asc" }, { id: "asc" }], select: { kind: true, byName: true, at: true } },
        },
      },
    },
  });
  if (row === null) return null;
  const { safetyContact: given } = row;
  // An erasure empties the sealed text and takes its key.
  const isKept = given !== null && given.sealed !== "";
  return {
    isKept,
    givenAt: isKept ? given.givenAt : null,
    givenByName: isKept ? given.givenByName : null,
    staysBecause: isKept ? await whyContactStays(tx, row.id) : null,
    events: (given?.events ?? []).map(({ kind, ...event }) => ({ ...event, kind: readContactEvent(kind) })),
  };
}

/**
 * Keeps how the customer of an own return can be reached for a safety notice; a new one takes the place of the old. While the
 * customer may have to be warned it is kept beside the old one, because nobody knows yet which of them answers.
 */
export function keepSafetyContact(
  actor: Actor,
  reference: string,
  contact: string,
  now = new Date(),
): Promise<ContactAnswer> {
  return writeContact(actor, reference, contact.trim(), now);
}

/**
 * Erases it: the key goes, and with it whatever was copied away of the sealed text. That there was one, and who looked, stays. Not
 * while the customer may have to be warned: then the answer says until when.
 */
export function eraseSafetyContact(actor: Actor, reference: string, now = new Date()): Promise<ContactAnswer> {
  return writeContact(actor, reference, null, now);
}

async function writeContact(actor: Actor, typed: string, contact: string | null, now: Date): Promise<ContactAnswer> {
  const reading = readReturnReference(typed);
  if (!may(actor, "read-own-contact")) return notAllowed;
  if (reading.kind !== "reference") return notFound;
  // As the system, as when it is read.
  const kept = await asSystem((tx) => readKept(tx, reading.reference));
  return asActor(actor, async (tx) => {
    const row = await findReturn(tx, reading.reference);
    if (row === null || kept === null) return notFound;
    const returnId = row.id;
    const { staysBecause, isKept } = kept;
    if (contact === null && staysBecause !== null)
      return { ok: false, reason: "must-stay", sentence: `${staysBecause} ${howToCorrect}` };
    const before = staysBecause === null ? null : await readOwn(tx, returnId);
    const { sealed, key } =
      contact === null ? { sealed: "", key: null } : sealContact(before === null ? contact : besides(contact, before));
    await tx.safetyContactKey.deleteMany({ where: { returnId } });
    const given = { sealed, givenAt: now, givenByUserId: actor.userId, givenByName: actor.name };
    await tx.safetyContact.upsert({ where: { returnId }, create: { returnId, ...given }, update: given });
    if (key !== null) await tx.safetyContactKey.create({ data: { returnId, key } });
    const kind = contact === null ? "erased" : before !== null ? "added-beside" : isKept ? "replaced" : "given";
    const event = { returnId, kind, byUserId: actor.userId, byName: actor.name, at: now };
    await tx.safetyContactEvent.createMany({ data: [event] });
    return { ok: true };
  });
}

const howToCorrect = "If it is no longer right, keep the right one beside it.";

/** The newest first. */
const besides = (contact: string, before: string) => `${contact}; before that: ${before}`;

async function readOwn(tx: Transaction, returnId: string): Promise<string | null> {
  const given = await tx.safetyContact.findUnique({ where: { returnId } });
  const key = await tx.safetyContactKey.findUnique({ where: { returnId } });
  return given === null || key === null || given.sealed === "" ? null : openContact({ ...given, key: key.key });
}

/**
 * Shows a customer's contact to somebody of the house who needs it for a safety notice. The entry of who looked and why is
 * written in the same transaction, as the system, which alone reads the key: without the entry nothing comes out.
 */
export async function revealSafetyContact(
  actor: Actor,
  typed: string,
  why: string,
  now = new Date(),
): Promise<RevealAnswer> {
  const reading = readReturnReference(typed);
  if (!may(actor, "reveal-contact")) return notAllowed;
  if (reading.kind !== "reference") return notFound;
  const { reference } = reading;
  const seen = await asActor(actor, (tx) => findReturn(tx, reference));
  if (seen === null) return notFound;
  return asSystem(async (tx) => {
    const given = await tx.safetyContact.findUnique({ where: { returnId: seen.id } });
    const kept = await tx.safetyContactKey.findUnique({ where: { returnId: seen.id } });
    if (given === null || kept === null) return notFound;
    await tx.safetyContactReveal.create({
      data: { returnId: seen.id, why, byUserId: actor.userId, byName: actor.name, byRole: actor.role, at: now },
    });
    return { ok: true, contact: openContact({ sealed: given.sealed, key: kept.key }) };
  });
}
