import { type Column, DataTable } from "@/app/_components/data-table";
import {
  byFullName,
  type NamedThreshold,
  namedThresholds,
  sayThreshold,
  sayWithUnit,
} from "@/lib/diagnosis/threshold-fields";
import type { ModelThresholds } from "@/lib/packs/pack-model";

interface OwnRow {
  readonly threshold: NamedThreshold;
  readonly present: string;
}

const columns: readonly Column<OwnRow>[] = [
  { head: "Threshold", cell: ({ threshold: { label } }) => label },
  { head: "Now", numeric: true, short: true, cell: ({ present }) => present },
  { head: "Usually", numeric: true, short: true, cell: ({ threshold }) => sayWithUnit(threshold.usual, threshold) },
  { head: "Where the usual value comes from", cell: ({ threshold: { source } }) => source },
];

/** What a model is judged by otherwise than usual, beside the usual value and its source; and what stands there to no effect. */
export function OwnThresholds({ thresholds }: { readonly thresholds: ModelThresholds }) {
  const own = byFullName(thresholds);
  const rows = namedThresholds.flatMap((threshold) => {
    const value = own.get(threshold.name);
    return value === undefined ? [] : [{ threshold, present: sayWithUnit(value, threshold) }];
  });
  const unknown = [...own].filter(
    ([name]) => !name.startsWith("calibration.") && !namedThresholds.some((one) => one.name === name),
  );
  return (
    <div className="space-y-3">
      <DataTable
        entriesWhenNarrow
        caption="Thresholds this model has of its own"
        columns={columns}
        rows={rows}
        rowKey={({ threshold: { name } }) => name}
        whenEmpty="Its readings are judged by the usual thresholds."
      />
      {thresholds.calibration === undefined ? null : (
        <p>
          It also has a calibration of confidences of its own, fitted to confirmed findings, which no proposal changes.
        </p>
      )}
      {unknown.map(([name, value]) => (
        <p key={name} className="font-semibold text-warn">
          <span className="break-all">{name}</span>: {sayThreshold(value)}. No threshold has this name: no file of this
          model is called sound until it is put right. The next version leaves it out.
        </p>
      ))}
    </div>
  );
}
