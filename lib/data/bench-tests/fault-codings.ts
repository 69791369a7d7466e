import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type FaultCoding, faultOfCoding } from "@/lib/bench-tests/fault-coding.schema";
import { readReturnReference } from "@/lib/returns/return-reference";
import { readReturnStatus } from "@/lib/returns/return-status";
import { asActor } from "../database";
import { breaksUnique } from "../unique-violation";

export type CodingAnswer =
  | { readonly ok: true; readonly version: number }
  | {
      readonly ok: false;
      readonly reason: "not-found" | "not-under-test" | "no-such-group" | "someone-changed-this";
      readonly field: string;
      readonly sentence: string;
    };

/**
 * Codes the fault of a return on its four levels: a new version beside the earlier ones, so that what was thought first is
 * not lost when the analysis changes it. `seenVersion` is the version on the screen, 0 before the first.
 */
export async function codeFault(
  actor: Actor,
  typedReference: string,
  coding: FaultCoding,
  seenVersion: number,
  now = new Date(),
): Promise<CodingAnswer> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference" || !may(actor, "test-pack")) return notFound;
  try {
    return await asActor(actor, async (tx) => {
      const row = await tx.return.findUnique({
        where: { reference: reading.reference },
        select: {
          id: true,
          status: true,
          pack: { select: { revision: { select: { model: { select: { seriesCount: true } } } } } },
          faultCodings: { orderBy: { version: "desc" }, take: 1, select: { version: true } },
        },
      });
      if (row === null) return notFound;
      if (readReturnStatus(row.status) !== "under-test") {
        return refuse("not-under-test", "form", "The fault is coded while the return is under test.");
      }
      const { seriesCount } = row.pack.revision.model;
      if (coding.groups.some((group) => group > seriesCount)) {
        return refuse("no-such-group", "groups", `This pack has ${seriesCount} groups.`);
      }
      const version = row.faultCodings[0]?.version ?? 0;
      if (version !== seenVersion) return changedMeanwhile;
      await tx.faultCoding.create({
        data: {
          ...coding,
          groups: [...coding.groups],
          returnId: row.id,
          version: version + 1,
          fault: faultOfCoding(coding),
          byUserId: actor.userId,
          byName: actor.name,
          at: now,
        },
      });
      return { ok: true, version: version + 1 };
    });
  } catch (error) {
    if (breaksUnique(error, "FaultCoding_returnId_version_key")) return changedMeanwhile;
    throw error;
  }
}

const notFound = refuse("not-found", "form", "There is no such return for you.");
const changedMeanwhile = refuse(
  "someone-changed-this",
  "form",
  "Somebody coded this fault while you had it open. Look at it as it is now, then code it again.",
);

function refuse(
  reason: Extract<CodingAnswer, { ok: false }>["reason"],
  field: string,
  sentence: string,
): Extract<CodingAnswer, { ok: false }> {
  return { ok: false, reason, field, sentence };
}
