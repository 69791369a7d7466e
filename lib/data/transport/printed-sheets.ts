import "server-only";
import type { Actor } from "@/lib/access/actor";
import { readDecidedRemedy } from "@/lib/returns/decision.schema";
import { decisionStands, readReturnStatus } from "@/lib/returns/return-status";
import { whyNotSent } from "@/lib/transport/authorisation";
import type { Leg } from "@/lib/transport/leg";
import { type StatedReturn, whyNoStatement } from "@/lib/transport/used-battery-statement";
import { readCoverOutcome } from "@/lib/warranty/cover";
import { asActor } from "../database";
import { readEnvironment } from "../env";
import { readTransport, type TransportView } from "./transport";

export const sheetKinds = ["label", "traveller", "packing-sheet", "used-battery-statement"] as const;
export type SheetKind = (typeof sheetKinds)[number];

export type PrintableSheet =
  | {
      readonly kind: "printable";
      readonly transport: TransportView;
      /** What the QR code holds: the page of the return, which a scanner at the bench opens. */
      readonly address: string;
      readonly returnAddress: readonly string[];
    }
  | { readonly kind: "refused"; readonly reference: string; readonly sentence: string };

/**
 * A sheet to print, or why there is none. Label, packing sheet and statement need a declared class and leave that runs;
 * the traveller stays with the pack in the house and needs neither. Null where the return is not theirs.
 */
export async function readSheet(
  actor: Actor,
  reference: string,
  sheet: SheetKind,
  leg: Leg = "to-maker",
  now = new Date(),
): Promise<PrintableSheet | null> {
  const transport = await readTransport(actor, reference, now, leg);
  if (transport === null) return null;
  const { appUrl, returnAddress } = readEnvironment();
  const printable = {
    kind: "printable",
    transport,
    address: `${appUrl}/bench/${transport.reference}`,
    returnAddress,
  } as const;
  if (sheet === "traveller") return printable;
  const { sending, orders } = transport;
  if (sending.kind !== "may-send") {
    return { kind: "refused", reference: transport.reference, sentence: whyNotSent(sending) };
  }
  if (orders?.kind !== "pack") {
    const sentence = orders?.kind === "no-rules-for-country" ? orders.sentence : whyNotSent({ kind: "do-not-ship" });
    return { kind: "refused", reference: transport.reference, sentence };
  }
  if (returnAddress.length === 0) {
    const sentence = "Nobody has set the address that returned packs go to (RETURN_ADDRESS), so nothing is printed.";
    return { kind: "refused", reference: transport.reference, sentence };
  }
  if (sheet === "used-battery-statement") {
    if (leg !== "to-maker") {
      const sentence = "This sheet states a return to the maker for repair, and this pack does not travel for that.";
      return { kind: "refused", reference: transport.reference, sentence };
    }
    const sentence = whyNoStatement(await readStatedReturn(actor, transport.reference));
    if (sentence !== null) return { kind: "refused", reference: transport.reference, sentence };
  }
  return printable;
}

async function readStatedReturn(actor: Actor, reference: string): Promise<StatedReturn> {
  const { coverOutcome, status, decision } = await asActor(actor, (tx) =>
    tx.return.findUniqueOrThrow({
      where: { reference },
      select: { coverOutcome: true, status: true, decision: { select: { remedy: true } } },
    }),
  );
  const stands = decisionStands(readReturnStatus(status));
  return {
    coverOutcome: readCoverOutcome(coverOutcome),
    decidedRemedy: stands ? readDecidedRemedy(decision?.remedy ?? null) : null,
  };
}

/** Notes that somebody printed a sheet, so that the next reader knows that a label is out. */
export async function recordPrint(
  actor: Actor,
  reference: string,
  sheet: SheetKind,
  now = new Date(),
  leg: Leg = "to-maker",
): Promise<{ readonly ok: boolean }> {
  const found = await readSheet(actor, reference, sheet, leg, now);
  const declarationId = found?.kind === "printable" ? found.transport.declaration?.id : undefined;
  // A traveller without a class is no transport document, so nothing is noted of it.
  if (declarationId === undefined) return { ok: found?.kind === "printable" };
  await asActor(actor, (tx) =>
    tx.printedSheet.create({
      data: { declarationId, kind: sheet, printedAt: now, printedByUserId: actor.userId, printedByName: actor.name },
    }),
  );
  return { ok: true };
}
