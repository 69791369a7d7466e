import type { Actor } from "@/lib/access/actor";
import { asSystem } from "@/lib/data/database";
import { declareTransportClass } from "@/lib/data/declare-transport";
import { packedViews } from "@/lib/receiving/pack-faces";
import { criteria } from "@/lib/transport/criteria";
import { classDeclarationSchema } from "@/lib/transport/declare-class";
import type { Leg } from "@/lib/transport/leg";

/**
 * A declared class, a printed label, a ticked checklist and two photographs of the box: all that a pack needs before it may
 * be handed to a carrier. Prints, ticks and photographs are laid down as rows; that they are made as they should be is
 * tried in tests/integration/transport.
 */
export async function packForSending(lead: Actor, reference: string, at: Date, leg: Leg = "to-maker"): Promise<void> {
  const { id: returnId, declared } = await asSystem(async (tx) => {
    const row = await tx.return.findUniqueOrThrow({
      where: { reference },
      select: { id: true, _count: { select: { declarations: { where: { leg } } } } },
    });
    return { id: row.id, declared: row._count.declarations };
  });
  const declaration = classDeclarationSchema.parse({
    transportClass: "damaged",
    criteria: Object.fromEntries(criteria.map((criterion) => [criterion, "not-examined"])),
    reason: "Judged from what was told.",
    seenDeclarations: declared,
    leg,
    ...(leg === "to-supplier" ? { consignee: "Cell works, Musterstadt" } : {}),
  });
  const answer = await declareTransportClass(lead, reference, declaration, at);
  if (!answer.ok) throw new Error(JSON.stringify(answer));
  const by = { userId: "packer", name: "Packer" };
  await asSystem(async (tx) => {
    const { id: declarationId } = await tx.classDeclaration.findFirstOrThrow({
      where: { returnId, leg },
      orderBy: { sequence: "desc" },
      select: { id: true },
    });
    await tx.printedSheet.create({
      data: { declarationId, kind: "label", printedAt: at, printedByUserId: by.userId, printedByName: by.name },
    });
    await tx.packingCheck.create({
      data: {
        declarationId,
        points: ["All of it."],
        checkedAt: at,
        checkedByUserId: by.userId,
        checkedByName: by.name,
      },
    });
    const sha = "0".repeat(64);
    await tx.packPhoto.createMany({
      data: packedViews.map((view) => ({
        returnId,
        view,
        originalSha256: sha,
        keptSha256: sha,
        widthPixels: 900,
        heightPixels: 900,
        sharpness: 9,
        takenAt: at,
        takenByUserId: by.userId,
        takenByName: by.name,
      })),
    });
  });
}
