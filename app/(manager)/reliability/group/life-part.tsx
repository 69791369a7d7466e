import { type Column, DataTable } from "@/app/_components/data-table";
import { sayFault } from "@/lib/diagnosis/fault-words";
import type { CompareBy } from "@/lib/reliability/compare-by";
import type { GroupLife } from "@/lib/reliability/group-life";
import { cannotTellClause } from "@/lib/reliability/group-sentence";
import {
  lagCorrectedSentence,
  lawIfFailuresSentence,
  lawSentence,
  rateSentence,
} from "@/lib/reliability/law-sentences";
import { grouped, inHundred, inHundredBetween } from "@/lib/reliability/plain-share";
import { PacksLink } from "../packs/packs-link";

export type Fault = GroupLife["faults"][number];

interface LifePartProps {
  readonly by: CompareBy;
  readonly group: string;
  readonly life: GroupLife;
  /** The delay the curve is corrected by, in words, and whether there is one. */
  readonly delayWords: string;
  readonly allowsForDelay: boolean;
  /** What the law and the rate rest on. */
  readonly restsOn: string;
}

/** Which faults, by what law, how often a month, and what is still on its way. */
export function LifePart({ by, group, life, delayWords, allowsForDelay, restsOn }: LifePartProps) {
  const [first] = life.faults;
  return (
    <div className="space-y-4">
      {first === undefined ? null : (
        <p className="max-w-4xl">
          By {first.months} months in use, with {grouped(first.atRisk)} packs at risk at that age: for each fault the
          share of packs confirmed so far to have failed of it first. Together the shares add up to the curve at that
          age.
        </p>
      )}
      <DataTable
        caption={`Failures of ${group} by the fault that was found`}
        columns={faultColumns(by, group)}
        rows={life.faults}
        rowKey={({ fault }) => fault}
        whenEmpty="No failure has been confirmed by then, so there is nothing to tell apart."
      />
      <p className="max-w-4xl">
        {lawSentence(life.model)} {restsOn}
      </p>
      <p className="max-w-4xl">{rateSentence(life)}</p>
      {life.ifFailures === null ? null : <p className="max-w-4xl">{lawIfFailuresSentence(life)}</p>}
      <p className="max-w-4xl">
        {delayWords} {allowsForDelay ? lagCorrectedSentence(life) : ""}
      </p>
    </div>
  );
}

/** Of packs of one model alone their links say so. */
export function faultColumns<Row extends Fault>(
  by: CompareBy,
  group: string,
  ofModel: (fault: Row) => { readonly model?: string } = () => ({}),
): readonly Column<Row>[] {
  return [
    { head: "Fault found", cell: ({ fault }) => sayFault(fault) },
    { head: "By", cell: ({ months }) => `${months} months` },
    {
      head: "Failures",
      numeric: true,
      cell: (row) => {
        const filter = { fault: row.fault, byDays: row.ageDays, ...ofModel(row) };
        return <PacksLink by={by} group={group} list="failures" filter={filter} count={row.failures} />;
      },
    },
    {
      head: "Packs at risk",
      numeric: true,
      cell: (row) => {
        const filter = { byDays: row.ageDays, ...ofModel(row) };
        return <PacksLink by={by} group={group} list="at-risk" filter={filter} count={row.atRisk} />;
      },
    },
    { head: "Share failed of it, 95 % limits", cell: (fault) => <Share {...fault} /> },
  ];
}

function Share({ share, lower, upper, doubt, atRisk, failures }: Fault) {
  if (doubt === null)
    return (
      <>
        <strong>{inHundred(share)}</strong>, {inHundredBetween(lower, upper)}
      </>
    );
  return (
    <span className="text-soft">
      cannot tell yet: {cannotTellClause(doubt, atRisk, failures)}. So far {inHundredBetween(lower, upper)}.
    </span>
  );
}
