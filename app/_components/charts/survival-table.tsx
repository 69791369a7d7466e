import { type Column, DataTable } from "@/app/_components/data-table";
import type { FailureEstimate } from "@/lib/reliability/failure-estimate";
import type { GroupReport } from "@/lib/reliability/group-report";
import { cannotTellClause } from "@/lib/reliability/group-sentence";
import { MILESTONE_MONTHS } from "@/lib/reliability/months-in-service";
import type { PackList, PackListFilter } from "@/lib/reliability/pack-lists";
import { grouped, inHundred, inHundredBetween } from "@/lib/reliability/plain-share";

import { SharesBeside } from "./shares-beside";

type HrefOf = (group: string, list: PackList, filter?: PackListFilter) => string;

interface SurvivalTableProps {
  readonly caption: string;
  /** What a row is: "Build revision". */
  readonly nameHead?: string;
  readonly reports: readonly GroupReport[];
  /** Where the packs behind a number stand; without it the numbers are plain. */
  readonly hrefOf?: HrefOf;
  /** Whether the shares with late reports allowed for are told beside those of what is known. */
  readonly allowsForDelay?: boolean;
}

/** The numbers of the survival chart, one row per group; what else can be read beside a share folds below. */
export function SurvivalTable({
  caption,
  nameHead = "Revision",
  reports,
  hrefOf,
  allowsForDelay = false,
}: SurvivalTableProps) {
  const opened = (head: string, list: PackList, count: (report: GroupReport) => number): Column<GroupReport> => ({
    head,
    numeric: true,
    cell: (report) => <OpenedCount count={count(report)} href={hrefOf?.(report.group, list)} />,
  });
  const columns: Column<GroupReport>[] = [
    { head: nameHead, cell: (report) => report.group },
    opened("Built", "built", ({ packsBuilt }) => packsBuilt),
    opened("Dispatched", "dispatched", ({ packsDispatched }) => packsDispatched),
    opened("In service", "in-service", ({ packsInService }) => packsInService),
    opened("Confirmed failures", "failures", ({ failures }) => failures),
    opened("All returns", "returns", ({ allReturns }) => allReturns.returns),
    opened("Unclassified returns", "unclassified", ({ allReturns }) => allReturns.unclassified),
    ...MILESTONE_MONTHS.map(
      (months, i): Column<GroupReport> => ({
        head: `Failed by ${months} months`,
        short: true,
        cell: (report) => (
          <div className="min-w-32">
            <EstimateCell
              estimate={report.estimates[i]}
              corrected={allowsForDelay ? report.headline[i] : undefined}
              hrefOf={(list, filter) => hrefOf?.(report.group, list, filter)}
            />
          </div>
        ),
      }),
    ),
  ];
  return (
    <div className="space-y-2">
      <DataTable
        entriesWhenNarrow
        caption={allowsForDelay ? `${caption}, late reports allowed for` : caption}
        columns={columns}
        rows={reports}
        rowKey={(report) => report.group}
        whenEmpty="There is nothing to show."
      />
      <SharesBeside caption={caption} nameHead={nameHead} reports={reports} allowsForDelay={allowsForDelay} />
    </div>
  );
}

interface OpenedCountProps {
  readonly count: number;
  readonly href: string | undefined;
  /** What is counted, where no head of a column says it. */
  readonly of?: string;
}

/** A number that leads to its packs; nought leads nowhere. */
function OpenedCount({ count, href, of }: OpenedCountProps) {
  const words = of === undefined ? grouped(count) : `${grouped(count)} ${of}`;
  if (count === 0 || href === undefined) return words;
  return (
    <a href={href} className="inline-block min-w-11 py-2 text-accent underline underline-offset-4">
      {words}
    </a>
  );
}

interface EstimateCellProps {
  readonly estimate: FailureEstimate | undefined;
  /** With late reports allowed for; undefined where nothing is. */
  readonly corrected: FailureEstimate | undefined;
  readonly hrefOf: (list: PackList, filter: PackListFilter) => string | undefined;
}

function EstimateCell({ estimate, corrected, hrefOf }: EstimateCellProps) {
  if (estimate === undefined) return null;
  if (estimate.kind === "cannot-tell") {
    const { reason, atRisk, failures, soFar } = estimate;
    return (
      <span className="text-soft">
        Cannot tell yet: {cannotTellClause(reason, atRisk, failures)}.
        {soFar !== null && <> So far {inHundredBetween(soFar.lower, soFar.upper)}.</>}
      </span>
    );
  }
  const shown = corrected?.kind === "estimate" ? corrected : estimate;
  return (
    <>
      <strong>{inHundred(shown.probability)}</strong>
      <br />
      {inHundredBetween(shown.lower, shown.upper)}
      <br />
      <span className="text-soft">
        <OpenedCount
          count={estimate.failures}
          href={hrefOf("failures", { byDays: estimate.ageDays })}
          of={estimate.failures === 1 ? "failure" : "failures"}
        />
        <br />
        <OpenedCount count={estimate.atRisk} href={hrefOf("at-risk", { byDays: estimate.ageDays })} of="at risk" />
      </span>
      {corrected?.kind !== "cannot-tell" ? null : (
        <span className="block text-soft">
          As confirmed so far; with late reports allowed for it cannot be told yet:{" "}
          {cannotTellClause(corrected.reason, corrected.atRisk, corrected.failures)}
        </span>
      )}
    </>
  );
}
