import { type Column, DataTable } from "@/app/_components/data-table";
import { ALL_TOLD } from "@/lib/reliability/forecast-total";
import { grouped } from "@/lib/reliability/plain-share";
import type { BothLimits, ReserveSteps, ToldAt } from "@/lib/reliability/roll-forward";
import { summedSteps, untoldSentence } from "@/lib/reliability/roll-sentences";
import { roundAmount, sayRoundMoney } from "@/lib/settlement/money";
import { RevisionName } from "../../revision-name";

interface StepRow {
  readonly group: string;
  readonly steps: ReserveSteps | null;
  readonly told: ToldAt;
  /** 95 % limits of opening and closing. */
  readonly limits: BothLimits;
}

interface StepsTableProps {
  readonly title: string;
  /** Null for failures. */
  readonly currency: string | null;
  readonly rows: readonly StepRow[];
  /** 95 % limits of the sums of openings and of closings: of folded distributions, not sums of the limits. */
  readonly totalLimits: BothLimits;
  readonly linked: boolean;
}

/** From the opening reserve to the closing one, step by step; the steps of a row add up. */
export function StepsTable({ title, currency, rows, totalLimits, linked }: StepsTableProps) {
  const say = (number: number) => (currency === null ? number.toFixed(1) : sayRoundMoney(number, currency));
  const sayLimit = (number: number) => (currency === null ? grouped(number) : roundAmount(number, currency));
  const step = (head: string, of: (steps: ReserveSteps) => number): Column<StepRow> => ({
    head,
    numeric: true,
    cell: ({ steps }) => (steps === null ? "cannot tell" : signed(say(of(steps)))),
  });
  const end = (head: string, key: "opening" | "closing"): Column<StepRow> => ({
    head,
    numeric: true,
    cell: ({ steps, limits, told }) =>
      steps === null || !told[key] ? (
        "cannot tell"
      ) : (
        <>
          {say(steps[key])}
          {limits[key] === null ? null : (
            <span className="block text-soft">
              {sayLimit(limits[key].lower)} to {sayLimit(limits[key].upper)}
            </span>
          )}
        </>
      ),
  });
  const columns: readonly Column<StepRow>[] = [
    {
      head: "Revision",
      cell: ({ group }) => (group === ALL_TOLD ? ALL_TOLD : <RevisionName code={group} linked={linked} />),
    },
    end("Opening", "opening"),
    step("Arisen since", ({ arisen }) => -arisen),
    step("Change of number", ({ changeOfNumber }) => changeOfNumber),
    ...(currency === null ? [] : [step("Change of cost", ({ changeOfCost }) => changeOfCost)]),
    step("Change of what can be told", ({ changeOfTelling }) => changeOfTelling),
    step("Packs sold since", ({ soldSince }) => soldSince),
    end("Closing", "closing"),
  ];
  const all: StepRow = {
    group: ALL_TOLD,
    steps: summedSteps(rows.map(({ steps }) => steps)),
    told: { opening: true, closing: true },
    limits: totalLimits,
  };
  const untold = untoldSentence(rows);
  return (
    <div className="space-y-2">
      <DataTable
        entriesWhenNarrow
        caption={`${title}, opening and closing with 95 % limits`}
        columns={columns}
        rows={[...rows, all]}
        rowKey={({ group }) => group}
        whenEmpty="There is no revision."
      />
      {untold === "" ? null : <p className="max-w-4xl">{untold}</p>}
    </div>
  );
}

/** A change with its sign; what rounds to nothing has none. */
function signed(text: string): string {
  if (!/[1-9]/.test(text)) return text.replace("-", "");
  return text.startsWith("-") ? text.replace("-", "\u2212") : `+${text}`;
}
