import type { CompareBy } from "@/lib/reliability/compare-by";
import type { GroupEffect } from "@/lib/reliability/compare-strata";
import { grouped } from "@/lib/reliability/plain-share";
import { PacksLink } from "./packs-link";

interface ComparedLinkProps {
  readonly by: CompareBy;
  readonly of: Pick<GroupEffect, "group" | "observed" | "comparedAges">;
}

/** The failures that a group is compared by, opened by the ages they lie at; plain where they cannot be told apart by age. */
export function ComparedLink({ by, of: { group, observed, comparedAges } }: ComparedLinkProps) {
  if (comparedAges === null) return grouped(observed);
  const filter = { fromDays: comparedAges.from, byDays: comparedAges.upTo };
  return <PacksLink by={by} group={group} list="failures" filter={filter} count={observed} />;
}
