import { type Column, DataTable } from "@/app/_components/data-table";
import type { FailureEstimate } from "@/lib/reliability/failure-estimate";
import type { GroupReport } from "@/lib/reliability/group-report";
import { MILESTONE_MONTHS } from "@/lib/reliability/months-in-service";
import { grouped, inHundred, inHundredBetween } from "@/lib/reliability/plain-share";

interface SharesBesideProps {
  readonly caption: string;
  readonly nameHead: string;
  readonly reports: readonly GroupReport[];
  /** Whether the table above allows for late reports, so that what is confirmed so far is another number. */
  readonly allowsForDelay: boolean;
}

/** The shares a reader may have met elsewhere, beside the one to go by: confirmed so far, whatever came back, and the naive ratio. */
export function SharesBeside({ caption, nameHead, reports, allowsForDelay }: SharesBesideProps) {
  const columns: Column<GroupReport>[] = [
    { head: nameHead, cell: (report) => report.group },
    ...MILESTONE_MONTHS.map(
      (months, i): Column<GroupReport> => ({
        head: `Share by ${months} months`,
        short: true,
        cell: ({ estimates, allReturns }) => (
          <>
            {allowsForDelay ? <Share what="Confirmed so far" estimate={estimates[i]} /> : null}
            <Share what="Came back, whatever was found" estimate={allReturns.estimates[i]} />
          </>
        ),
      }),
    ),
    { head: "Returns / dispatched (naive: ignores age)", cell: ({ naive }) => <NaiveCell naive={naive} /> },
  ];
  return (
    <details>
      <summary className="flex min-h-11 cursor-pointer items-center font-semibold text-accent underline underline-offset-4">
        {allowsForDelay
          ? "As confirmed so far, whatever came back, returns by dispatched"
          : "Whatever came back, returns by dispatched"}
      </summary>
      <DataTable
        entriesWhenNarrow
        caption={`${caption}: beside the shares above`}
        columns={columns}
        rows={reports}
        rowKey={(report) => report.group}
        whenEmpty="There is nothing to show."
      />
    </details>
  );
}

function Share({ what, estimate }: { readonly what: string; readonly estimate: FailureEstimate | undefined }) {
  return (
    <span className="block">
      {what}:{" "}
      {estimate?.kind === "estimate"
        ? `${inHundred(estimate.probability)}, ${inHundredBetween(estimate.lower, estimate.upper)}`
        : "cannot tell yet"}
    </span>
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
