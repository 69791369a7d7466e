import { SelectInput } from "@/app/_components/select-input";
import type { ColumnChoice } from "@/lib/readings/column-choice.schema";
import { dayOrderLabels } from "@/lib/readings/quantity-labels";

type DayOrderChosen = Exclude<ColumnChoice["dayOrder"], undefined>;

interface DayOrderSelectProps {
  readonly label: string;
  /** Null where nobody has said it yet. */
  readonly order: DayOrderChosen;
  readonly onChoose: (order: DayOrderChosen) => void;
}

/** Which number of a date is the day; nothing is chosen for whoever has not said it. */
export function DayOrderSelect({ label, order, onChoose }: DayOrderSelectProps) {
  return (
    <SelectInput
      aria-label={label}
      value={order ?? ""}
      onChange={(event) =>
        onChoose((["day-first", "month-first"] as const).find((one) => one === event.target.value) ?? null)
      }
    >
      <option value="">Day or month first: please choose</option>
      {(["day-first", "month-first"] as const).map((one) => (
        <option key={one} value={one}>
          {dayOrderLabels[one]}
        </option>
      ))}
    </SelectInput>
  );
}
