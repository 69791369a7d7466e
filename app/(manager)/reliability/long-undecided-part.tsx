import { type Column, DataTable } from "@/app/_components/data-table";
import { compareByWords } from "@/lib/reliability/compare-by";
import type { IfFailures } from "@/lib/reliability/if-failures";
import { wouldStandOutSentence } from "@/lib/reliability/if-failures-sentences";
import { sayP } from "@/lib/reliability/plain-share";
import { ratioBetween, sayRatio } from "@/lib/reliability/worse-sentences";
import { GroupLink } from "./group-link";
import { PacksLink } from "./packs/packs-link";

interface LongUndecidedPartProps {
  readonly all: readonly IfFailures[];
  readonly waitedDays: number;
}

/** More rows than this are for the table files. Engineering default, no authority. */
const MOST_SHOWN = 15;

/** Returns that nobody has decided on for longer than is allowed for, and what would follow were they failures. */
export function LongUndecidedPart({ all, waitedDays }: LongUndecidedPartProps) {
  if (all.length === 0) return null;
  const wouldStandOut = wouldStandOutSentence(all, waitedDays);
  return (
    <section aria-labelledby="long-undecided" className="space-y-3">
      <h2 id="long-undecided">Undecided for too long</h2>
      <p className="max-w-4xl">
        These returns were told {waitedDays} days ago or earlier and nobody has decided on them. That is longer than any
        delay that is allowed for, so they count as no failure in what stands above and below. The gravest often wait
        longest: they want a decision.
      </p>
      {wouldStandOut === "" ? null : <p className="max-w-4xl font-semibold">{wouldStandOut}</p>}
      <DataTable
        entriesWhenNarrow
        caption="Each group against the others once more, were all these returns failures; the last column also, were its own alone failures"
        columns={columnsFor(waitedDays)}
        rows={all.slice(0, MOST_SHOWN)}
        rowKey={({ by, group }) => `${by} ${group}`}
        whenEmpty="There is no such return."
      />
      {all.length <= MOST_SHOWN ? null : (
        <p className="text-soft">
          And {all.length - MOST_SHOWN} more groups with fewer such returns; what a group has of them stands on its
          page.
        </p>
      )}
    </section>
  );
}

function columnsFor(waitedDays: number): readonly Column<IfFailures>[] {
  return [
    {
      head: "Group",
      cell: ({ by, group }) => (
        <GroupLink by={by} group={group}>
          {compareByWords[by].name} {group}
        </GroupLink>
      ),
    },
    {
      head: "Undecided for too long",
      numeric: true,
      cell: ({ by, group, undecided }) => (
        <PacksLink by={by} group={group} list="undecided" filter={{ settledDays: waitedDays }} count={undecided} />
      ),
    },
    { head: "Times as often as the others", numeric: true, cell: ({ effect }) => times(effect) },
    {
      head: "95 % limits",
      numeric: true,
      cell: ({ effect }) => (effect.ratio === null ? "" : ratioBetween(effect.ratio)),
    },
    {
      head: "Adjusted for all groups",
      numeric: true,
      cell: ({ effect }) => (effect.adjustedP === null ? "" : sayP(effect.adjustedP)),
    },
    { head: "Stands out", cell: ({ isWorse, wouldBeWorse }) => standing(isWorse, wouldBeWorse) },
  ];
}

function times(effect: IfFailures["effect"]): string {
  if (effect.ratio === null) return effect.p === null ? "cannot tell yet" : "not worked out";
  return effect.ratio.ratio === null ? "only it failed" : sayRatio(effect.ratio.ratio);
}

function standing(isWorse: boolean, wouldBeWorse: boolean): string {
  if (isWorse) return wouldBeWorse ? "either way" : "only as things stand";
  return wouldBeWorse ? "only then" : "no";
}
