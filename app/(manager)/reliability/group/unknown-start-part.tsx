import { type Column, DataTable } from "@/app/_components/data-table";
import type { CompareBy } from "@/lib/reliability/compare-by";
import { cannotTellClause } from "@/lib/reliability/group-sentence";
import { grouped, inHundred, inHundredBetween } from "@/lib/reliability/plain-share";
import {
  type ReadStart,
  startReadingWords,
  type UnknownStarts,
  unknownStartsSentence,
} from "@/lib/reliability/unknown-start";
import { PacksLink } from "../packs/packs-link";

interface UnknownStartPartProps {
  readonly by: CompareBy;
  readonly group: string;
  readonly starts: UnknownStarts;
}

/** What packs without a known day of sale could change: readings beside each other, the lowest and the highest named. */
export function UnknownStartPart({ by, group, starts }: UnknownStartPartProps) {
  const months = starts.readings[0]?.estimates.map((estimate) => estimate.months) ?? [];
  const columns: readonly Column<ReadStart>[] = [
    { head: "Such packs are", cell: ({ reading }) => startReadingWords[reading] },
    { head: "Packs counted", numeric: true, cell: ({ packs }) => grouped(packs) },
    { head: "Failures", numeric: true, cell: ({ failures }) => grouped(failures) },
    ...months.map(
      (month, i): Column<ReadStart> => ({
        head: `Failed by ${month} months`,
        cell: ({ estimates }) => <Share estimate={estimates[i]} />,
      }),
    ),
  ];
  return (
    <>
      <p className="max-w-4xl">{unknownStartsSentence(starts)}</p>
      <p>
        Such packs: <PacksLink by={by} group={group} list="unknown-start" count={starts.packs} />
      </p>
      <DataTable
        caption="The share failed under each reading"
        columns={columns}
        rows={starts.readings}
        rowKey={({ reading }) => reading}
        whenEmpty="Every dispatched pack has a day of sale."
      />
    </>
  );
}

function Share({ estimate }: { readonly estimate: ReadStart["estimates"][number] | undefined }) {
  if (estimate === undefined) return null;
  const { kind } = estimate;
  if (kind === "cannot-tell")
    return (
      <span className="text-soft">
        cannot tell yet: {cannotTellClause(estimate.reason, estimate.atRisk, estimate.failures)}
      </span>
    );
  return (
    <div className="min-w-32">
      <strong>{inHundred(estimate.probability)}</strong>
      <br />
      {inHundredBetween(estimate.lower, estimate.upper)}
    </div>
  );
}
