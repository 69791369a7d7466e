import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { asActor, type Transaction } from "../database";

/**
 * Takes a file out that was read but not sent with a form yet: from now on no form can be sent with it, from whatever tab or
 * device. That it was there stays on record; its bytes go with the next sweep. Does nothing for a file of somebody else or of a return.
 */
export async function takeReadingsOut(actor: Actor, readingFileId: string): Promise<void> {
  const { dealerId, userId } = actor;
  if (!may(actor, "upload-readings") || dealerId === null) return;
  await asActor(actor, async (tx) => {
    const file = await tx.readingFile.findFirst({
      where: { id: readingFileId, dealerId, returnId: null },
      select: { serial: true, fileName: true, sha256: true },
    });
    if (file === null) return;
    await tx.readingTakenOut.createMany({
      data: [{ ...file, readingFileId, dealerId, byUserId: userId }],
      // Asked twice, by two tabs: it is out.
      skipDuplicates: true,
    });
  });
}

export async function wasTakenOut(tx: Transaction, readingFileId: string): Promise<boolean> {
  return (await tx.readingTakenOut.count({ where: { readingFileId } })) > 0;
}

/** Ids of the files this dealer took out since an instant. */
export async function listTakenOut(tx: Transaction, { dealerId }: Actor, since: Date): Promise<string[]> {
  if (dealerId === null) return [];
  const rows = await tx.readingTakenOut.findMany({
    where: { dealerId, at: { gte: since } },
    select: { readingFileId: true },
  });
  return rows.map(({ readingFileId }) => readingFileId);
}
