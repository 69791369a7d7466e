import { type Column, DataTable } from "@/app/_components/data-table";
import type { FailureEstimate } from "@/lib/reliability/failure-estimate";
import type { GroupReport } from "@/lib/reliability/group-report";
import { cannotTellClause } from "@/lib/reliability/group-sentence";
import { MILESTONE_MONTHS } from "@/lib/reliability/months-in-service";
import { grouped, inHundred, inHundredBetween } from "@/lib/reliability/plain-share";

/** The numbers of the survival chart, and the naive ratio under its own name, one row per revision. */
export function SurvivalTable({ caption, reports }: { caption: string; reports: readonly GroupReport[] }) {
  const columns: Column<GroupReport>[] = [
    { head: "Revision", cell: (report) => report.group },
    { head: "Built", numeric: true, cell: (report) => grouped(report.packsBuilt) },
    { head: "Dispatched", numeric: true, cell: (report) => grouped(report.packsDispatched) },
    { head: "In service", numeric: true, cell: (report) => grouped(report.packsInService) },
    { head: "Confirmed failures", numeric: true, cell: (report) => grouped(report.failures) },
    { head: "Undecided returns", numeric: true, cell: (report) => grouped(report.undecidedReturns) },
    ...MILESTONE_MONTHS.map(
      (months, i): Column<GroupReport> => ({
        head: `Failed by ${months} months`,
        cell: (report) => (
          <div className="min-w-32">
            <EstimateCell estimate={report.estimates[i]} />
          </div>
        ),
      }),
    ),
    { head: "Returns / dispatched (naive: ignores age)", cell: ({ naive }) => <NaiveCell naive={naive} /> },
  ];
  return (
    <DataTable
      caption={caption}
      columns={columns}
      rows={reports}
      rowKey={(report) => report.group}
      whenEmpty="There is no revision to show."
    />
  );
}

function EstimateCell({ estimate }: { estimate: FailureEstimate | undefined }) {
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
  return (
    <>
      <strong>{inHundred(estimate.probability)}</strong>
      <br />
      {inHundredBetween(estimate.lower, estimate.upper)}
      <br />
      <span className="text-soft">
        {grouped(estimate.failures)} failures, {grouped(estimate.atRisk)} at risk
      </span>
    </>
  );
}

function NaiveCell({ naive }: { naive: GroupReport["naive"] }) {
  if (naive.ratio === null) return <span className="text-soft">nothing dispatched</span>;
  return (
    <span className="text-soft">
      {grouped(naive.returns)} / {grouped(naive.dispatched)} = {inHundred(Math.min(1, naive.ratio))}
    </span>
  );
}
