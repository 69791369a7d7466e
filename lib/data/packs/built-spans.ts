import "server-only";
import { type CompareBy, isLot, lotKinds } from "@/lib/reliability/compare-by";
import type { BuiltSpan } from "@/lib/reliability/since-sentences";
import { fromDateColumn, fromOptionalDateColumn } from "../calendar-columns";
import type { Transaction } from "../database";

export interface RevisionDays {
  readonly code: string;
  readonly introducedOn: Date;
  readonly supersededOn: Date | null;
}

/** When the packs of a group were built: of a revision from its own record, of a lot by the packs built from it; null of any other. */
export async function readBuiltSpan(
  tx: Transaction,
  { by, group }: { readonly by: CompareBy; readonly group: string },
  revisions: readonly RevisionDays[],
): Promise<BuiltSpan | null> {
  if (isLot(by)) {
    const lot = { kind: lotKinds[by], code: group };
    const { _min, _max } = await tx.pack.aggregate({
      where: { lots: { some: { fittedOn: null, lot } } },
      _min: { builtOn: true },
      _max: { builtOn: true },
    });
    const first = fromOptionalDateColumn(_min.builtOn);
    return first === null ? null : { first, last: fromOptionalDateColumn(_max.builtOn) };
  }
  const revision = by === "revision" ? revisions.find(({ code }) => code === group) : undefined;
  if (revision === undefined) return null;
  return { first: fromDateColumn(revision.introducedOn), last: fromOptionalDateColumn(revision.supersededOn) };
}
