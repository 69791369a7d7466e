import { type Column, DataTable } from "@/app/_components/data-table";
import { DownloadLink } from "@/app/_components/download-link";
import { type ComparisonChoice, compareByWords } from "@/lib/reliability/compare-by";
import { hangsOnDelay } from "@/lib/reliability/compare-strata";
import { averageSentence } from "@/lib/reliability/comparison-sentences";
import { rankingRefusal } from "@/lib/reliability/refusal-sentences";
import type { RankedGroup, ShrunkenRanking } from "@/lib/reliability/shrunken-ranking";
import { hangsOnDelayWords, sayRatio } from "@/lib/reliability/worse-sentences";
import { GroupLink } from "./group-link";
import { ComparedLink } from "./packs/compared-link";
import { PacksLink } from "./packs/packs-link";

interface RankingPartProps {
  readonly choice: ComparisonChoice;
  readonly ranking: ShrunkenRanking;
}

/** So many stand on the page; nobody looks further down a list of the worst. Engineering default, no authority. */
const MOST_SHOWN = 15;

function sayShrunken(ranked: RankedGroup): string {
  return hangsOnDelay(ranked) ? hangsOnDelayWords : sayRatio(ranked.shrunken);
}

function sayLimits(ranked: RankedGroup): string {
  return hangsOnDelay(ranked) ? "" : `${sayRatio(ranked.lower)} to ${sayRatio(ranked.upper)}`;
}

/** In which order to look at many small groups, luck allowed for. */
export function RankingPart({ choice, ranking }: RankingPartProps) {
  const { by } = choice;
  const { many } = compareByWords[by];
  const columns: readonly Column<RankedGroup>[] = [
    {
      head: compareByWords[by].name,
      cell: ({ group }) => (
        <GroupLink by={by} group={group}>
          {group}
        </GroupLink>
      ),
    },
    { head: "Times the average of all, drawn in", numeric: true, cell: sayShrunken },
    { head: "95 % limits", numeric: true, cell: sayLimits },
    {
      head: "Failures",
      numeric: true,
      cell: ({ group, failures }) => <PacksLink by={by} group={group} list="failures" count={failures} />,
    },
    { head: "Of these compared", numeric: true, cell: (ranked) => <ComparedLink by={by} of={ranked} /> },
    { head: "To be expected", numeric: true, cell: ({ expected }) => expected.toFixed(1) },
    { head: "As counted", numeric: true, cell: (ranked) => (hangsOnDelay(ranked) ? "" : sayRatio(ranked.raw)) },
  ];
  return (
    <section aria-labelledby="ranking-title" className="space-y-3">
      <h2 id="ranking-title" className="border-b-2 border-ink pb-1">
        Where to look first
      </h2>
      {ranking.kind === "refused" ? (
        <p className="max-w-4xl">
          There is no ranking of {many}. {rankingRefusal(ranking.reason)}
        </p>
      ) : (
        <>
          <p className="max-w-4xl">
            Small groups lead every list of the worst, and of the best, by luck alone: so each number is drawn towards
            the average of all {many}, the more the fewer failures were to be expected of it at equal age.
          </p>
          <DataTable
            entriesWhenNarrow
            caption={`The first ${Math.min(MOST_SHOWN, ranking.groups.length)} of ${ranking.groups.length} ${many}, luck allowed for`}
            columns={columns}
            rows={ranking.groups.slice(0, MOST_SHOWN)}
            rowKey={({ group }) => group}
            whenEmpty="There is no group to rank."
          />
          <p className="max-w-4xl text-soft">
            {averageSentence(choice.by)} The limits take the spread among {many} as known, so with few of them they are
            somewhat short.
          </p>
          <p>
            <DownloadLink href={`/reliability/export?${new URLSearchParams({ ...choice, table: "ranking" })}`}>
              {`All ${ranking.groups.length} as a table file (CSV)`}
            </DownloadLink>
          </p>
        </>
      )}
    </section>
  );
}
