import "server-only";
import type { Actor } from "@/lib/access/actor";
import type { SafetyClass } from "@/lib/diagnosis/finding";
import { readStoredClass } from "@/lib/diagnosis/stored-finding";
import type { Transaction } from "../database";

/**
 * Gives a readings file to its return, in the transaction that changes the return. From then on it is evidence, and the
 * newest one counts (trigger).
 */
export async function attachReadings(
  tx: Transaction,
  actor: Pick<Actor, "name" | "role">,
  { fileId, returnId, at }: { readonly fileId: string; readonly returnId: string; readonly at: Date },
): Promise<void> {
  // Only where still free: of two returns that name the same file at once, one must fail.
  const { count } = await tx.readingFile.updateMany({
    where: { id: fileId, returnId: null },
    data: { returnId, attachedAt: at, attachedByName: actor.name, attachedByRole: actor.role },
  });
  if (count !== 1) throw new Error(`Readings file ${fileId} was attached elsewhere meanwhile`);
}

/** The safety classes among what was found in a file. */
export function classesOf(findings: readonly { readonly safetyClass: string }[]): SafetyClass[] {
  return findings.map(({ safetyClass }) => readStoredClass(safetyClass));
}
