import { FactList } from "@/app/_components/fact-list";
import { exclusionWords } from "@/lib/reliability/exclusion-words";
import type { GroupReport } from "@/lib/reliability/group-report";
import { grouped, packsInWords } from "@/lib/reliability/plain-share";

/** From packs built down to failures counted, so that no pack goes missing between two numbers. */
export function CountsPart({ line }: { line: GroupReport }) {
  const { packsBuilt, packsDispatched, packsInService, failures, undecidedReturns, naive, excluded } = line;
  return (
    <>
      <FactList
        facts={[
          { term: "Built", detail: grouped(packsBuilt) },
          { term: "Dispatched", detail: grouped(packsDispatched) },
          { term: "In use and watched", detail: grouped(packsInService) },
          { term: "Packs that came back at least once", detail: grouped(naive.returns) },
          { term: "Confirmed failures", detail: grouped(failures) },
          { term: "Returns still undecided", detail: grouped(undecidedReturns) },
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
                {packsInWords(packs)}: {exclusionWords[reason]}
              </li>
            ))}
          </ul>
        </>
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
