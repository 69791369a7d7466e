import { type Column, DataTable } from "@/app/_components/data-table";
import { labelOf } from "@/app/_components/label-of";
import { OneStepForm } from "@/app/_components/one-step-form";
import { SerialText } from "@/app/_components/serial-text";
import type { ReturnWithoutLine } from "@/lib/data/money/nothing-owed";
import { remedyLabels } from "@/lib/returns/decision.schema";
import { stateNothingOwedAction } from "./actions";

const columns: readonly Column<ReturnWithoutLine>[] = [
  { head: "Return", cell: ({ reference }) => <SerialText>{reference}</SerialText> },
  { head: "Dealer", cell: ({ dealerName }) => dealerName },
  { head: "Pack", cell: ({ serialShown }) => <SerialText>{serialShown}</SerialText> },
  { head: "Decided", cell: ({ remedy }) => (remedy === null ? "nothing" : labelOf(remedyLabels, remedy)) },
  {
    head: "Nothing is owed",
    cell: ({ reference }) => (
      <OneStepForm
        action={stateNothingOwedAction}
        hidden={{ reference }}
        asks="Why, for the dealer"
        button="Nothing is owed"
        spoken={`Nothing is owed on ${reference}`}
      />
    ),
  },
];

/** A return closes by itself once its money is settled; without a line somebody has to say by name that nothing is owed. */
export function NothingOwedPart({ rows }: { rows: readonly ReturnWithoutLine[] }) {
  return (
    <details className="card">
      <summary className="min-h-11 cursor-pointer px-3 py-2.5 font-semibold">
        Handed back, and nothing claimed: {rows.length}
      </summary>
      <div className="space-y-3 border-t border-rule p-3">
        <p>
          The dealer may still claim. Where nothing is owed, say so: only then does the program close such a return when
          its time has come.
        </p>
        <DataTable
          entriesWhenNarrow
          caption="Returns handed back without a line of money"
          captionHidden
          columns={columns}
          rows={rows}
          rowKey={({ reference }) => reference}
          whenEmpty="Every return handed back has a line, or somebody said that nothing is owed."
        />
      </div>
    </details>
  );
}
