import type { DecodedColumns } from "@/lib/readings/decoded-columns";
import { quantileOf } from "@/lib/readings/median";
import { listed } from "@/lib/readings/plan-columns";
import type { PlannedColumn } from "@/lib/readings/planned-column";

interface JoinedDirections {
  readonly decoded: DecodedColumns;
  readonly remarks: readonly string[];
  /** By field, why a column of one direction could not be used. */
  readonly open: Readonly<Record<number, string>>;
}

const sampleLimit = 4001;
/** Share of the larger side that a column of one direction may hold on the other, as an offset at rest does (engineering default, no authority). */
const otherSideShare = 0.05;

/**
 * Makes one current, positive when charging, of a column of charging and one of discharging currents, in the place of the former; each
 * counts by its size, and an empty field beside a number is no current. Both are left out beside a column that is the current
 * itself; where only one is there, or one holds both directions, they are left out and a person must say what they are.
 */
export function joinDirections(decoded: DecodedColumns): JoinedDirections {
  const { plan, columns } = decoded;
  const slots = plan.columns.flatMap(({ meaning: { quantity } }, slot) =>
    quantity === "charge-current" || quantity === "discharge-current" ? [slot] : [],
  );
  const slotOf = (quantity: string) => plan.columns.findIndex(({ meaning }) => meaning.quantity === quantity);
  if (slots.length === 0) return { decoded, remarks: [], open: {} };
  const names = listed(slots.map((slot) => plan.columns[slot]?.header ?? ""));
  const without = (dropped: readonly number[], replaced: readonly PlannedColumn[] = plan.columns): DecodedColumns => ({
    ...decoded,
    plan: { ...plan, columns: replaced.filter((_, slot) => !dropped.includes(slot)) },
    columns: columns.filter((_, slot) => !dropped.includes(slot)),
  });
  if (slotOf("current") >= 0) {
    const remark = `Columns of one direction of the current are left out beside the current itself: ${names}.`;
    return { decoded: without(slots), remarks: [remark], open: {} };
  }
  const [chargeSlot, dischargeSlot] = [slotOf("charge-current"), slotOf("discharge-current")];
  const [charge, discharge] = [columns[chargeSlot], columns[dischargeSlot]];
  const column = plan.columns[chargeSlot];
  const isPair = charge !== undefined && discharge !== undefined && column !== undefined;
  if (!isPair || holdsBoth(charge) || holdsBoth(discharge)) {
    const why = isPair
      ? "This is named for one direction of the current and holds both, or the column beside it does: say which column is the current."
      : "This is named for one direction of the current, and no column is there for the other. If it holds both, choose the current.";
    const open = Object.fromEntries(slots.map((slot) => [plan.columns[slot]?.field ?? 0, why]));
    return { decoded: without(slots), remarks: [`The current could not be made out from ${names}.`], open };
  }
  const stated = plan.columns[dischargeSlot]?.meaning.unit ?? null;
  const unit = column.meaning.unit ?? stated;
  const scale = stated === null || unit === null ? 1 : stated.scale / unit.scale;
  for (let row = 0; row < decoded.rows; row++) {
    const into = charge[row] ?? Number.NaN;
    const out = discharge[row] ?? Number.NaN;
    if (Number.isNaN(into) && Number.isNaN(out)) continue;
    charge[row] = (Number.isNaN(into) ? 0 : Math.abs(into)) - (Number.isNaN(out) ? 0 : Math.abs(out) * scale);
  }
  const meaning = { quantity: "current", number: null, unit, raw: false, statedSign: "charge-positive" } as const;
  const joined = plan.columns.map((each, slot) =>
    slot === chargeSlot ? { ...each, meaning, spokenName: "current" } : each,
  );
  const remark = `Columns ${names} are one direction of the current each; they were joined to one current.`;
  return { decoded: without([dischargeSlot], joined), remarks: [remark], open: {} };
}

function holdsBoth(logged: Float64Array): boolean {
  const above = quantileOf(logged, 0.99, sampleLimit);
  const below = -quantileOf(logged, 0.01, sampleLimit);
  return Math.min(above, below) > otherSideShare * Math.max(above, below);
}
