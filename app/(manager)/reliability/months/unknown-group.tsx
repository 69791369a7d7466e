import { EmptyState } from "@/app/_components/empty-state";
import type { GroupAsked } from "@/lib/data/reliability/month-triangle";
import { compareByWords } from "@/lib/reliability/compare-by";

/** An address may name anything: a name nobody has is told apart from a group that was not sold yet. */
export function UnknownGroup({ by, group }: GroupAsked) {
  const { one } = compareByWords[by];
  return (
    <EmptyState title={`The ${one} ${group} is not known`}>
      <p>No pack and no record bears that name. It may be misspelt, or its packs are not brought in yet.</p>
    </EmptyState>
  );
}
