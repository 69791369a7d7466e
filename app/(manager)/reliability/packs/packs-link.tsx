import type { CompareBy } from "@/lib/reliability/compare-by";
import type { PackList, PackListFilter } from "@/lib/reliability/pack-lists";
import { grouped } from "@/lib/reliability/plain-share";
import { packListHref } from "./pack-list-address";

interface PacksLinkProps {
  readonly by: CompareBy;
  readonly group: string;
  readonly list: PackList;
  readonly filter?: PackListFilter;
  readonly count: number;
}

/** A number of packs that leads to exactly those packs; nought leads nowhere. */
export function PacksLink({ by, group, list, filter, count }: PacksLinkProps) {
  if (count === 0) return grouped(count);
  return (
    <a
      href={packListHref(by, group, list, filter)}
      className="inline-block min-w-11 py-2 text-accent underline underline-offset-4"
    >
      {grouped(count)}
    </a>
  );
}
