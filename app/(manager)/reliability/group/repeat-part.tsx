import { MeanCountChart } from "@/app/_components/charts/mean-count-chart";
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
        <MeanCountChart
          id="repeats"
          title={`${group}: returns for 100 customers by age`}
          sentence="Every return within the first pack's cover counts, whatever was found; a replacement goes on with the customer's count. The shaded band holds the true number with 95 % confidence: it assumes nothing of how one customer's returns hang together, and with fewer than about 20 returns it can be too narrow."
          axis="Returns for 100 customers, by months"
          steps={repeats.steps.map(({ age, mean, lower, upper }) => {
            return { ageDays: age, mean: mean * 100, lower: lower * 100, upper: upper * 100 };
          })}
          watched={rows}
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
