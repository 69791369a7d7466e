import { ChevronRight } from "lucide-react";
import type { ReactNode } from "react";
import type { MeasurementView } from "@/lib/data/returns/bench-returns";
import {
  type MeasuredQuantity,
  measuredQuantities,
  sayUncertainty,
  sayValue,
} from "@/lib/diagnosis/measured-quantities";

/** All numbers taken from the file, folded away: the findings name those that matter. One line a quantity; each opens. */
export function MeasurementsTable({ measurements }: { measurements: readonly MeasurementView[] }) {
  if (measurements.length === 0) {
    return <p className="text-soft">Nothing in this file could be measured soundly, so no numbers are given.</p>;
  }
  return (
    <details>
      <summary className="flex min-h-11 cursor-pointer items-center font-semibold text-accent underline underline-offset-4">
        {measurements.length} {measurements.length === 1 ? "measurement" : "measurements"} with method and uncertainty
      </summary>
      <div className="card">
        <p className="caption-print px-3 py-2">
          Uncertainty is one standard uncertainty. A line opens to every group, how it was measured and under which
          conditions.
        </p>
        {measuredQuantities(measurements).map((quantity) => (
          <Quantity key={quantity.name} quantity={quantity} />
        ))}
      </div>
    </details>
  );
}

function Quantity({ quantity }: { quantity: MeasuredQuantity<MeasurementView> }) {
  const { title, said, saidUncertainty, values, method, conditions } = quantity;
  return (
    <details className="group/quantity border-t border-rule">
      <summary className="grid min-h-11 cursor-pointer grid-cols-2 items-baseline gap-x-3 px-3 py-2 sm:grid-cols-[2fr_2fr_1fr]">
        <span className="flex items-start gap-1 font-semibold">
          <ChevronRight aria-hidden size={18} className="mt-1 shrink-0 text-soft group-open/quantity:rotate-90" />
          {title}
        </span>
        <span className="text-right tabular-nums">{said}</span>
        <span className="col-span-2 text-right text-sm text-soft tabular-nums sm:col-span-1">
          {saidUncertainty ?? `${values.length} values`}
        </span>
      </summary>
      <div className="space-y-2 bg-sunk px-3 py-2">
        {values.length === 1 ? null : (
          <ul className="grid gap-px border border-rule bg-rule sm:grid-cols-3 lg:grid-cols-4">
            {values.map((one) => (
              <li key={`${one.group} ${one.conditions} ${one.value}`} className="bg-raised px-3 py-1">
                <span className="flex flex-wrap items-baseline justify-between gap-x-3">
                  <span className="caption-print">{one.group === null ? "Whole pack" : `Group ${one.group}`}</span>
                  <span className="tabular-nums">
                    {sayValue(one)} <span className="text-sm text-soft">{sayUncertainty(one)}</span>
                  </span>
                </span>
                {conditions === null ? <span className="block text-sm text-soft">{one.conditions}</span> : null}
              </li>
            ))}
          </ul>
        )}
        <HowMeasured term="How">{method ?? values.map((one) => one.method).join("; ")}</HowMeasured>
        {conditions === null ? null : <HowMeasured term="Under which conditions">{conditions}</HowMeasured>}
      </div>
    </details>
  );
}

function HowMeasured({ term, children }: { term: string; children: ReactNode }) {
  return (
    <p className="text-sm">
      <span className="caption-print block">{term}</span>
      {children}
    </p>
  );
}
