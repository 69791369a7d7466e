import { writtenDay } from "@/app/_components/calendar-day";
import { type Column, DataTable } from "@/app/_components/data-table";
import type { CompareBy } from "@/lib/reliability/compare-by";
import type { GroupReport } from "@/lib/reliability/group-report";
import { cannotTellClause } from "@/lib/reliability/group-sentence";
import { DAYS_PER_MONTH } from "@/lib/reliability/months-in-service";
import type { PackList } from "@/lib/reliability/pack-lists";
import { grouped, inHundred, inHundredBetween } from "@/lib/reliability/plain-share";
import type { Limits } from "@/lib/stats/survival-limits";
import { PacksLink } from "../packs/packs-link";

type Point = GroupReport["points"][number];

function reliableWords({ doubt, probability, atRisk }: Point): string {
  if (doubt === null) return "yes";
  if (doubt === "few-failures")
    return probability === 0 ? "no failure yet: see the upper limit" : "no, too few failures";
  if (doubt === "few-at-risk") return "no, too few at risk";
  return `no: ${cannotTellClause(doubt, atRisk, 0)}`;
}

/** Between the days of age: whoever is at risk there is at risk after the day before. */
const HALF_A_DAY = 0.5;

const pointColumns = (by: CompareBy, group: string): readonly Column<Point>[] => [
  { head: "Age in days", numeric: true, cell: ({ ageDays }) => grouped(ageDays) },
  { head: "Months", numeric: true, cell: ({ ageDays }) => (ageDays / DAYS_PER_MONTH).toFixed(1) },
  {
    head: "Packs at risk after it",
    numeric: true,
    cell: ({ atRisk, ageDays }) => (
      <PacksLink by={by} group={group} list="at-risk" filter={{ byDays: ageDays + HALF_A_DAY }} count={atRisk} />
    ),
  },
  { head: "Failed by then", numeric: true, cell: ({ probability }) => inHundred(probability) },
  { head: "95 % limits", numeric: true, cell: ({ lower, upper }) => inHundredBetween(lower, upper) },
  { head: "Reliable", cell: reliableWords },
];

interface PointTableProps {
  readonly by: CompareBy;
  readonly line: GroupReport;
  /** Whether the delay is known, so that something can be allowed for. */
  readonly allowsForDelay: boolean;
  readonly dataDate: string;
}

/** Every point of the curve drawn: one a failure age, and where the curve turns grey or ends. */
export function PointTable({ by, line, allowsForDelay, dataDate }: PointTableProps) {
  return (
    <>
      <FailureCounts by={by} line={line} allowsForDelay={allowsForDelay} />
      <details>
        <summary className="flex min-h-11 cursor-pointer items-center font-semibold text-accent underline underline-offset-4">
          All {line.points.length} points of the curve
        </summary>
        <DataTable
          caption={`Points of the curve of ${line.group}, up to ${writtenDay(dataDate)}${line.confirmedSoFar === null ? "" : ", late reports allowed for"}`}
          columns={pointColumns(by, line.group)}
          rows={line.points}
          rowKey={({ ageDays }) => String(ageDays)}
          whenEmpty="No pack has been in use yet, so the curve has no point."
        />
      </details>
    </>
  );
}

type Estimate = GroupReport["estimates"][number];

function sayShare({ probability, lower, upper }: Limits & { readonly probability: number }): string {
  return `${inHundred(probability)} (${inHundredBetween(lower, upper)})`;
}

const byAge: Column<Estimate> = {
  head: "By",
  cell: ({ months }) => <span className="whitespace-nowrap">{months} months</span>,
};

const confirmedSoFar: Column<Estimate> = {
  head: "As confirmed so far, 95 % limits",
  cell: (estimate) => {
    if (estimate.kind === "estimate") return <span className="text-soft">{sayShare(estimate)}</span>;
    const { reason, atRisk, failures, soFar } = estimate;
    const limits = soFar === null ? "" : `; so far ${inHundredBetween(soFar.lower, soFar.upper)}`;
    return (
      <span className="text-soft">{`cannot tell yet: ${cannotTellClause(reason, atRisk, failures)}${limits}`}</span>
    );
  },
};

function FailureCounts({ by, line, allowsForDelay }: Omit<PointTableProps, "dataDate">) {
  const corrected: Column<Estimate> = {
    head: "Failed, late reports allowed for, 95 % limits",
    cell: ({ months }) => {
      const share = line.headline.find((one) => one.months === months);
      if (!allowsForDelay || share === undefined) return "cannot tell yet";
      return share.kind === "cannot-tell" ? (
        <span className="text-soft">
          cannot tell yet: {cannotTellClause(share.reason, share.atRisk, share.failures)}
        </span>
      ) : (
        <>
          <strong>{inHundred(share.probability)}</strong> ({inHundredBetween(share.lower, share.upper)})
        </>
      );
    },
  };
  const firstReturn: Column<Estimate> = {
    head: "First return a failure, undecided or of unknown fault, 95 % limits",
    cell: ({ months }) => {
      const share = line.allReturns.mayHaveFailed.find((one) => one.months === months);
      if (share === undefined) return "cannot tell yet";
      return share.kind === "cannot-tell"
        ? `cannot tell yet: ${cannotTellClause(share.reason, share.atRisk, share.failures)}`
        : sayShare(share);
    },
  };
  const counts: readonly Column<Estimate>[] = [
    { head: "Failures", numeric: true, cell: ({ failures, ageDays }) => opened("failures", failures, ageDays) },
    { head: "Packs at risk", numeric: true, cell: ({ atRisk, ageDays }) => opened("at-risk", atRisk, ageDays) },
  ];
  function opened(list: PackList, count: number, byDays: number) {
    return <PacksLink by={by} group={line.group} list={list} filter={{ byDays }} count={count} />;
  }
  return (
    <DataTable
      caption="At the ages at which groups are set side by side"
      columns={[byAge, corrected, confirmedSoFar, ...counts, firstReturn]}
      rows={line.estimates}
      rowKey={({ months }) => String(months)}
      whenEmpty="Nothing can be told yet."
    />
  );
}
