import type { ComponentProps } from "react";
import type { DealerChoice } from "@/lib/data/accounts/dealers";
import { SelectInput } from "./select-input";

interface DealerSelectProps extends ComponentProps<typeof SelectInput> {
  readonly dealers: readonly DealerChoice[];
  /** What stands for no dealer. */
  readonly none: string;
}

/** A choice among all dealers, by code. */
export function DealerSelect({ dealers, none, ...rest }: DealerSelectProps) {
  return (
    <SelectInput {...rest}>
      <option value="">{none}</option>
      {dealers.map(({ code, name }) => (
        <option key={code} value={code}>
          {name}
        </option>
      ))}
    </SelectInput>
  );
}
