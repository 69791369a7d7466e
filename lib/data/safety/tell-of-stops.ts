import "server-only";
import { setReference } from "@/lib/reliability/affected-set";
import { comparisons, isLot, lotKinds } from "@/lib/reliability/compare-by";
import { nameOfGroup } from "@/lib/reliability/group-name";
import { asSystem, type Transaction } from "../database";
import { queueNotice } from "../notices/notices";
import { openToday } from "../packs/issue-bounds";
import { readDealersUnder } from "./own-held-back";

/**
 * Tells of issues under which nothing goes out: dealers who have such packs in stock, on loan or at the counter, the service
 * lead and the safety officer, once for each issue, whoever wrote it down and however. How many were told of. As the system:
 * nobody of the house reads where a pack was dispatched to.
 */
export function tellOfStopsAsSystem(): Promise<number> {
  return asSystem(async (tx) => {
    const issues = await tx.knownIssue.findMany({
      where: { stopShip: true, ...openToday() },
      select: {
        id: true,
        revisionId: true,
        lotId: true,
        setId: true,
        revision: { select: { code: true } },
        lot: { select: { code: true, kind: true } },
        set: { select: { number: true } },
      },
      orderBy: { openedOn: "asc" },
    });
    let told = 0;
    for (const issue of issues) told += (await tellOfStop(tx, issue)) ? 1 : 0;
    return told;
  });
}

interface StopIssue {
  readonly id: string;
  readonly revisionId: string | null;
  readonly lotId: string | null;
  readonly setId: string | null;
  readonly revision: { readonly code: string } | null;
  readonly lot: { readonly code: string; readonly kind: string } | null;
  readonly set: { readonly number: number } | null;
}

async function tellOfStop(tx: Transaction, { id, ...issue }: StopIssue): Promise<boolean> {
  const occasion = `issue ${id}`;
  if ((await tx.notice.count({ where: { kind: "stop-opened", key: { contains: occasion } } })) > 0) return false;
  const reference = nameOfPacks({ id, ...issue });
  for (const role of ["service-lead", "safety-officer"] as const)
    await queueNotice(tx, { kind: "stop-opened", reference, occasion, to: { role } });
  // A dealer reads no lots: the revision says which packs to look for, and the page of messages names the serials.
  for (const { dealerId, revisionCode } of await readDealersUnder(tx, issue))
    await queueNotice(tx, { kind: "own-held-back", reference: revisionCode, occasion, to: { dealerId } });
  return true;
}

/** The packs by the set or the lot where there is one, else by their revision. */
function nameOfPacks({ id, revision, lot, set }: StopIssue): string {
  if (set !== null) return setReference(set.number);
  const by = comparisons.filter(isLot).find((one) => lotKinds[one] === lot?.kind);
  if (lot !== null && by !== undefined) return nameOfGroup({ by, group: lot.code });
  if (revision === null)
    throw new RangeError(`issue ${id} is bound to neither a set, a lot that is compared, nor a revision`);
  return nameOfGroup({ by: "revision", group: revision.code });
}
