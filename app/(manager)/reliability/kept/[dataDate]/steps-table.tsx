import { type Column, DataTable } from "@/app/_components/data-table";
import type { ReserveSteps } from "@/lib/reliability/roll-forward";
import { summedSteps } from "@/lib/reliability/roll-sentences";
import { sayRoundMoney } from "@/lib/settlement/money";
import { RevisionName } from "../../revision-name";

interface StepRow {
  readonly group: string;
  readonly steps: ReserveSteps | null;
}

interface StepsTableProps {
  readonly title: string;
  /** Null for failures. */
  readonly currency: string | null;
  readonly rows: readonly StepRow[];
  readonly linked: boolean;
}

const ALL = "All that can be told";

/** From the opening reserve to the closing one, step by step; the steps of a row add up. */
export function StepsTable({ title, currency, rows, linked }: StepsTableProps) {
  const say = (number: number) => (currency === null ? number.toFixed(1) : sayRoundMoney(number, currency));
  const step = (head: string, of: (steps: ReserveSteps) => number, signed = false): Column<StepRow> => ({
    head,
    numeric: true,
    cell: ({ steps }) => (steps === null ? "cannot tell" : `${signed && of(steps) > 0 ? "+" : ""}${say(of(steps))}`),
  });
  const columns: readonly Column<StepRow>[] = [
    {
      head: "Revision",
      cell: ({ group }) => (group === ALL ? ALL : <RevisionName code={group} linked={linked} />),
    },
    step("Opening", ({ opening }) => opening),
    step("Arisen since", ({ arisen }) => -arisen, true),
    step("Change of number", ({ changeOfNumber }) => changeOfNumber, true),
    ...(currency === null ? [] : [step("Change of cost", ({ changeOfCost }) => changeOfCost, true)]),
    step("Packs sold since", ({ soldSince }) => soldSince, true),
    step("Closing", ({ closing }) => closing),
  ];
  return (
    <DataTable
      caption={title}
      columns={columns}
      rows={[...rows, { group: ALL, steps: summedSteps(rows.map(({ steps }) => steps)) }]}
      rowKey={({ group }) => group}
      whenEmpty="The forecast held no revision."
    />
  );
}
