import sharp from "sharp";
import type { Actor } from "@/lib/access/actor";
import { asSystem } from "@/lib/data/database";
import { keepPackPhoto } from "@/lib/data/packs/pack-photos";
import { declareTransportClass } from "@/lib/data/transport/declare-transport";
import { recordPackingCheck } from "@/lib/data/transport/packing-check";
import { recordPrint } from "@/lib/data/transport/printed-sheets";
import { readTransport } from "@/lib/data/transport/transport";
import { packedViews } from "@/lib/receiving/pack-faces";
import { criteria } from "@/lib/transport/criteria";
import { classDeclarationSchema } from "@/lib/transport/declare-class";
import { isInbound, type Leg } from "@/lib/transport/leg";
import type { SmallFleet } from "./small-fleet";

/** Declares the class that a pack travels under, as whoever judged nothing but what was told. */
export async function declareForSending(
  lead: Actor,
  reference: string,
  at: Date,
  leg: Leg = "to-maker",
): Promise<void> {
  const declared = await asSystem((tx) => tx.classDeclaration.count({ where: { return: { reference }, leg } }));
  const declaration = classDeclarationSchema.parse({
    transportClass: "damaged",
    criteria: Object.fromEntries(criteria.map((criterion) => [criterion, "not-examined"])),
    reason: "Judged from what was told.",
    seenDeclarations: declared,
    leg,
    ...(leg === "to-supplier" ? { consignee: "Cell works, Musterstadt" } : {}),
  });
  must(await declareTransportClass(lead, reference, declaration, at));
}

/**
 * Prints the label, ticks every point of the checklist and photographs the box, as whoever packs that way: the dealer on the
 * ways to us, the bench on the ways out. Throws where the program does not let them.
 */
export async function packBox(fleet: SmallFleet, reference: string, at: Date, leg: Leg = "to-maker"): Promise<void> {
  const packer = isInbound(leg) ? await dealerOf(fleet, reference) : fleet.bench;
  must(await recordPrint(packer, reference, "label", at, leg));
  const transport = await readTransport(packer, reference, at, leg);
  const checklist = transport?.orders?.kind === "pack" ? transport.orders.checklist : [];
  const seenDeclarations = transport?.declarations ?? 0;
  must(
    await recordPackingCheck(
      packer,
      reference,
      { ticked: checklist.map((_point, index) => index), seenDeclarations, leg },
      at,
    ),
  );
  for (const view of packedViews)
    must(await keepPackPhoto(packer, reference, view, await photograph(), { now: at, leg }));
}

/** All that a pack needs before it may be handed to a carrier; on the way to us its sending has to be allowed already. */
export async function packForSending(
  fleet: SmallFleet,
  reference: string,
  at: Date,
  leg: Leg = "to-maker",
): Promise<void> {
  await declareForSending(fleet.lead, reference, at, leg);
  await packBox(fleet, reference, at, leg);
}

function must(answer: { readonly ok: boolean }): void {
  if (!answer.ok) throw new Error(JSON.stringify(answer));
}

async function dealerOf(fleet: SmallFleet, reference: string): Promise<Actor> {
  const { dealerId } = await asSystem((tx) =>
    tx.return.findUniqueOrThrow({ where: { reference }, select: { dealerId: true } }),
  );
  return dealerId === fleet.sydney.dealerId ? fleet.sydney : fleet.berlin;
}

let taken: Promise<Uint8Array> | undefined;

function photograph(): Promise<Uint8Array> {
  taken ??= sharp({ create: { width: 900, height: 700, channels: 3, background: "#456" } })
    .jpeg()
    .toBuffer();
  return taken;
}
