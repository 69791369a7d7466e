import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import type { PackChange } from "@/lib/repair/as-maintained";
import { type RefusedRelease, whyNotReleased } from "@/lib/repair/release";
import { readReturnReference } from "@/lib/returns/return-reference";
import { asActor } from "../database";
import { readPackChanges } from "../packs/pack-changes";
import { shownSerial } from "../packs/pack-words";
import { loadStanding } from "../returns/return-standing";
import { type InstrumentChoice, readInstrumentChoices } from "./bench-test-page";
import type { Retest } from "./retest";
import { readRetestOf, readWorkOrder, releaseFacts } from "./work";

export interface WorkPage {
  readonly reference: string;
  readonly serialShown: string;
  /** A decision stands: without one there is no work, and no test after it. */
  readonly isDecided: boolean;
  readonly isInWork: boolean;
  readonly isReleased: boolean;
  /** Work under the decision that stands, oldest first. */
  readonly work: readonly PackChange[];
  readonly release: { readonly signature: string; readonly byName: string; readonly at: Date } | null;
  /** Null where no approved plan holds for the pack, and while nothing is decided. */
  readonly retest: Retest | null;
  readonly instruments: readonly InstrumentChoice[];
  /** Why this person could not release it now, with any signature; null where signing is enough. */
  readonly whyNot: RefusedRelease | null;
}

/** The work on a returned pack and where its release stands; null where there is nothing of it for this person. */
export async function readWorkPage(actor: Actor, typedReference: string, now = new Date()): Promise<WorkPage | null> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference" || !may(actor, "read-build-record")) return null;
  return asActor(actor, async (tx) => {
    const loaded = await loadStanding(tx, reading.reference, now);
    if (loaded === null) return null;
    const order = await readWorkOrder(tx, loaded);
    const common = { reference: loaded.row.reference, serialShown: shownSerial(loaded.row.pack.serial) };
    if (order === null)
      return {
        ...common,
        isDecided: false,
        isInWork: false,
        isReleased: false,
        work: [],
        release: null,
        retest: null,
        instruments: [],
        whyNot: null,
      };
    const retest = await readRetestOf(tx, loaded, order, now);
    const standing = new Set(order.entries.map(({ id }) => id));
    return {
      ...common,
      isDecided: true,
      isInWork: order.isInWork,
      isReleased: order.isReleased,
      work: (await readPackChanges(tx, loaded.row.packId)).filter(({ id }) => standing.has(id)),
      release: await tx.packRelease.findUnique({
        where: { decisionId: order.decisionId },
        select: { signature: true, byName: true, at: true },
      }),
      retest,
      instruments: await readInstrumentChoices(tx, now),
      whyNot: whyNotReleased(releaseFacts(order, retest), actor.userId, "any name"),
    };
  });
}
