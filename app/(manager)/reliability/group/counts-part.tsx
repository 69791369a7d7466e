import { FactList } from "@/app/_components/fact-list";
import type { CompareBy } from "@/lib/reliability/compare-by";
import { exclusionWords } from "@/lib/reliability/exclusion-words";
import type { GroupReport } from "@/lib/reliability/group-report";
import type { PackList, PackListFilter } from "@/lib/reliability/pack-lists";
import { PacksLink } from "../packs/packs-link";

/** From packs built down to failures counted, so that no pack goes missing between two numbers; each opens to its packs. */
export function CountsPart({ by, line }: { readonly by: CompareBy; readonly line: GroupReport }) {
  const { group, packsBuilt, packsDispatched, packsInService, failures, undecidedReturns, allReturns, excluded } = line;
  const opened = (list: PackList, count: number, filter?: PackListFilter) => (
    <PacksLink by={by} group={group} list={list} count={count} {...(filter !== undefined && { filter })} />
  );
  return (
    <>
      <FactList
        facts={[
          { term: "Built", detail: opened("built", packsBuilt) },
          { term: "Dispatched", detail: opened("dispatched", packsDispatched) },
          { term: "In use and watched", detail: opened("in-service", packsInService) },
          { term: "Came back within cover at least once", detail: opened("returns", allReturns.returns) },
          { term: "Confirmed failures", detail: opened("failures", failures) },
          { term: "Returns still undecided", detail: opened("undecided", undecidedReturns) },
          {
            term: "Found faulty after the end of cover, not counted",
            detail: opened("after-cover", line.failedAfterCover),
          },
        ]}
      />
      {excluded.length === 0 ? (
        <p className="text-soft">No pack is left out.</p>
      ) : (
        <>
          <p className="font-semibold">Packs left out of the curve</p>
          <ul className="list-disc pl-5">
            {excluded.map(({ reason, packs }) => (
              <li key={reason}>
                {reason === "unsold" ? opened("not-sold", packs) : opened("left-out", packs, { reason })}{" "}
                {exclusionWords[reason]}
              </li>
            ))}
          </ul>
        </>
      )}
      {line.failedAfterCover === 0 ? null : (
        <p className="text-soft">
          An open field action covers its packs whatever the dates say, but moves no end of cover here: what failed
          after that end and was put right under such an action is among those not counted.
        </p>
      )}
      {undecidedReturns === 0 ? null : (
        <p className="text-soft">
          An undecided return ends its pack's time in the curve on the day it was told, without a failure. Should all of
          them prove to be failures, the share would be higher.
        </p>
      )}
    </>
  );
}
