import { type Column, DataTable } from "@/app/_components/data-table";
import type { FailureEstimate } from "@/lib/reliability/failure-estimate";
import type { GroupReport } from "@/lib/reliability/group-report";
import { cannotTellClause } from "@/lib/reliability/group-sentence";
import { MILESTONE_MONTHS } from "@/lib/reliability/months-in-service";
import type { PackList, PackListFilter } from "@/lib/reliability/pack-lists";
import { grouped, inHundred, inHundredBetween } from "@/lib/reliability/plain-share";
import type { Limits } from "@/lib/stats/survival-limits";

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

/** The numbers of the survival chart, all three lines, and the naive ratio under its own name, one row per group. */
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
              cameBack={report.allReturns.estimates[i]}
              hrefOf={(list, filter) => hrefOf?.(report.group, list, filter)}
            />
          </div>
        ),
      }),
    ),
    { head: "Returns / dispatched (naive: ignores age)", cell: ({ naive }) => <NaiveCell naive={naive} /> },
  ];
  return (
    <DataTable
      entriesWhenNarrow
      caption={caption}
      columns={columns}
      rows={reports}
      rowKey={(report) => report.group}
      whenEmpty="There is nothing to show."
    />
  );
}

/** A number that leads to its packs; nought leads nowhere. */
function OpenedCount({ count, href }: { count: number; href: string | undefined }) {
  if (count === 0 || href === undefined) return grouped(count);
  return (
    <a href={href} className="inline-block min-w-11 py-2 text-accent underline underline-offset-4">
      {grouped(count)}
    </a>
  );
}

interface EstimateCellProps {
  readonly estimate: FailureEstimate | undefined;
  /** With late reports allowed for; undefined where nothing is. */
  readonly corrected: FailureEstimate | undefined;
  /** The share that came back at least once, whatever was found. */
  readonly cameBack: FailureEstimate | undefined;
  readonly hrefOf: (list: PackList, filter: PackListFilter) => string | undefined;
}

function EstimateCell({ estimate, corrected, cameBack, hrefOf }: EstimateCellProps) {
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
        <OpenedCount count={estimate.failures} href={hrefOf("failures", { byDays: estimate.ageDays })} /> failures,{" "}
        <OpenedCount count={estimate.atRisk} href={hrefOf("at-risk", { byDays: estimate.ageDays })} /> at risk
      </span>
      {corrected === undefined ? null : <span className="block text-soft">{correctedWords(estimate, corrected)}</span>}
      {cameBack?.kind !== "estimate" ? null : (
        <span className="block text-soft">
          Came back, whatever was found: {inHundred(cameBack.probability)},{" "}
          {inHundredBetween(cameBack.lower, cameBack.upper)}
        </span>
      )}
    </>
  );
}

/** What the number above allows for. Mostly late reports change nothing that can be seen, and then the same numbers need not be read twice. */
function correctedWords(estimate: Limits & { readonly probability: number }, corrected: FailureEstimate): string {
  if (corrected.kind === "cannot-tell")
    return `As confirmed so far; with late reports allowed for it cannot be told yet: ${cannotTellClause(corrected.reason, corrected.atRisk, corrected.failures)}`;
  const words = (one: typeof estimate) => `${inHundred(one.probability)}, ${inHundredBetween(one.lower, one.upper)}`;
  return words(corrected) === words(estimate)
    ? "Late reports allowed for"
    : `Late reports allowed for; as confirmed so far ${words(estimate)}`;
}

function NaiveCell({ naive }: { naive: GroupReport["naive"] }) {
  if (naive.ratio === null) return <span className="text-soft">nothing dispatched</span>;
  return (
    <span className="text-soft">
      {grouped(naive.returns)} / {grouped(naive.dispatched)} = {inHundred(Math.min(1, naive.ratio))}
    </span>
  );
}
