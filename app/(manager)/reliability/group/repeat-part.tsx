import { IntervalPlot } from "@/app/_components/charts/interval-plot";
import { type Column, DataTable } from "@/app/_components/data-table";
import { grouped } from "@/lib/reliability/plain-share";
import {
  hundred,
  type RepeatReturns,
  type ReturnsByAge,
  repeatReturnsSentence,
} from "@/lib/reliability/repeat-returns";

const columns: readonly Column<ReturnsByAge>[] = [
  { head: "By", cell: ({ months }) => `${months} months` },
  { head: "Returns for 100 customers", numeric: true, cell: ({ mean }) => hundred(mean) },
  { head: "95 % limits", numeric: true, cell: ({ lower, upper }) => `${hundred(lower)} to ${hundred(upper)}` },
  { head: "Customers watched so long", numeric: true, cell: ({ atRisk }) => grouped(atRisk) },
];

/** How often one customer comes back, with the pack and with those that took its place. */
export function RepeatPart({ repeats, group }: { readonly repeats: RepeatReturns; readonly group: string }) {
  const rows = repeats.atMilestones;
  return (
    <>
      <p className="max-w-4xl">{repeatReturnsSentence(repeats)}</p>
      {rows.length === 0 ? null : (
        <IntervalPlot
          id="repeats"
          title={`${group}: returns for 100 customers by age`}
          sentence="Every return within the first pack's cover counts, whatever was found; a replacement goes on with the customer's count. The line is from limit to limit: it assumes nothing of how one customer's returns hang together, and with fewer than about 20 returns it can be too short."
          axis="returns for 100 customers"
          rows={rows.map(({ months, mean, lower, upper }) => ({
            name: `${months} months`,
            interval: { value: mean * 100, lower: lower * 100, upper: upper * 100 },
          }))}
        />
      )}
      <DataTable
        caption={`Returns of ${group} by age of the first pack, chains of replacements together`}
        columns={columns}
        rows={rows}
        rowKey={({ months }) => String(months)}
        whenEmpty="No return has come in yet at an age that is looked at here."
      />
    </>
  );
}
