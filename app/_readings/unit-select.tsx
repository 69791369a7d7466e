import { SelectInput } from "@/app/_components/select-input";

interface UnitSelectProps {
  /** What it is read out as. */
  readonly label: string;
  /** Null: told from the values, or several columns of which each has its own. */
  readonly unit: string | null;
  readonly symbols: readonly string[];
  readonly onChoose: (unit: string | null) => void;
}

/** In which unit a column is; nothing where what it is has none. */
export function UnitSelect({ label, unit, symbols, onChoose }: UnitSelectProps) {
  if (symbols.length === 0) return null;
  return (
    <SelectInput
      aria-label={label}
      value={unit ?? ""}
      onChange={(event) => onChoose(event.target.value === "" ? null : event.target.value)}
    >
      <option value="">Unit: told from the values</option>
      {symbols.map((symbol) => (
        <option key={symbol} value={symbol}>
          {symbol}
        </option>
      ))}
    </SelectInput>
  );
}
