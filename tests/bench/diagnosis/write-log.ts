import type { Chance } from "./chance";
import type { LoggedRow } from "./run-pack";

/** How the file is written, and what is wrong with its clock. */
export interface FileStyle {
  readonly delimiter: "," | ";" | "\t";
  readonly decimalComma: boolean;
  readonly millivolts: boolean;
  readonly dischargePositive: boolean;
  readonly unixTime: boolean;
  readonly leavesOut: ReadonlySet<LeftOut>;
  /** Single rows whose clock reads 0; a step of the clock by an hour; a hole, from and to as shares of the rows. */
  readonly zeroClockRows: number;
  readonly hourStep: boolean;
  readonly hole: readonly [number, number] | null;
  readonly truncatedRows: number;
  readonly insulation: boolean;
  /** Stretches of rows without a current, each from and to as shares of the rows. */
  readonly noCurrent?: readonly (readonly [number, number])[];
  /** Rows with a current, of so many in a row; the others carry none. */
  readonly currentInRows?: { readonly logged: number; readonly of: number };
  /** What the column of the switches' temperature reads, degC, instead of what is there. */
  readonly stageReads?: (at: number, rows: number, soundC: number) => number;
}

export type LeftOut = "pack voltage" | "current" | "temperatures" | "switches" | "mask" | "flags" | "soc" | "stage";

export function someFileStyle(chance: Chance, insulation: boolean): FileStyle {
  const continental = chance.happens(0.12);
  const leavesOut = new Set<LeftOut>();
  const shares: readonly (readonly [LeftOut, number])[] = [
    ["pack voltage", 0.08],
    ["current", 0.03],
    ["temperatures", 0.06],
    ["switches", 0.2],
    ["mask", 0.25],
    ["flags", 0.25],
    ["soc", 0.2],
    ["stage", 0.3],
  ];
  for (const [column, share] of shares) if (chance.happens(share)) leavesOut.add(column);
  return {
    delimiter: continental ? ";" : chance.pick([",", ",", ",", "\t"]),
    decimalComma: continental,
    millivolts: chance.happens(0.15),
    dischargePositive: chance.happens(0.15),
    unixTime: chance.happens(0.5),
    leavesOut,
    zeroClockRows: chance.happens(0.12) ? chance.integer(1, 20) : 0,
    hourStep: chance.happens(0.03),
    hole: chance.happens(0.08) ? [chance.between(0.3, 0.5), chance.between(0.52, 0.6)] : null,
    truncatedRows: chance.happens(0.08) ? chance.integer(1, 15) : 0,
    insulation,
  };
}

/** The rows as the text of a file. */
export function logText(rows: readonly LoggedRow[], style: FileStyle, startUnixS: number, chance: Chance): string {
  const kept =
    style.hole === null
      ? rows
      : rows.filter((_, at) => at < (style.hole?.[0] ?? 0) * rows.length || at >= (style.hole?.[1] ?? 0) * rows.length);
  const first = kept[0];
  if (first === undefined) return "Test Time / s\n";
  const has = (column: LeftOut) => !style.leavesOut.has(column);
  const unit = style.millivolts ? "mV" : "V";
  const header = [
    style.unixTime ? "Unix Time / s" : "Test Time / s",
    ...(has("pack voltage") ? ["Voltage / V"] : []),
    ...(has("current") ? [style.dischargePositive ? "Current [A]" : "Current / A"] : []),
    ...first.cellV.map((_, k) => `Cell ${String(k + 1).padStart(2, "0")} Voltage / ${unit}`),
    ...(has("temperatures") ? first.probeC.map((_, p) => `Temperature T${p + 1} / degC`) : []),
    ...(has("stage") ? ["MOSFET Temperature / degC"] : []),
    ...(has("soc") ? ["State of Charge / %"] : []),
    ...(has("switches") ? ["Charge Switch / 1", "Discharge Switch / 1"] : []),
    ...(has("mask") ? ["Balancing Mask / 1"] : []),
    ...(has("flags") ? ["Protection Flags / 1"] : []),
    ...(style.insulation ? ["Insulation Resistance / kOhm"] : []),
  ];
  const number = (value: number, digits: number) => {
    if (Number.isNaN(value)) return "";
    const text = value.toFixed(digits);
    return style.decimalComma ? text.replace(".", ",") : text;
  };
  const zeroAt = someRows(kept.length, style.zeroClockRows, chance);
  const cutAt = someRows(kept.length, style.truncatedRows, chance);
  const stepAt = style.hourStep ? Math.floor(kept.length * 0.5) : kept.length;
  const sign = style.dischargePositive ? -1 : 1;
  const { currentInRows } = style;
  const isSilent = (at: number) =>
    (currentInRows !== undefined && at % currentInRows.of >= currentInRows.logged) ||
    style.noCurrent?.some(([from, to]) => at >= from * kept.length && at < to * kept.length) === true;
  const lines = kept.map((row, at) => {
    const clock = zeroAt.has(at) ? 0 : row.timeS + (style.unixTime ? startUnixS : 0) - (at >= stepAt ? 3600 : 0);
    const cutFrom = cutAt.has(at) ? chance.integer(1, row.cellV.length - 1) : row.cellV.length;
    return [
      number(clock, style.unixTime ? 0 : 1),
      ...(has("pack voltage") ? [number(row.packV, 3)] : []),
      ...(has("current") ? [number(isSilent(at) ? Number.NaN : sign * row.currentA, 2)] : []),
      ...row.cellV.map((volt, k) => (k >= cutFrom ? "0" : style.millivolts ? number(volt * 1000, 0) : number(volt, 3))),
      ...(has("temperatures") ? row.probeC.map((warm) => number(warm, 1)) : []),
      ...(has("stage") ? [number(style.stageReads?.(at, kept.length, row.stageC) ?? row.stageC, 1)] : []),
      ...(has("soc") ? [number(row.soc, 1)] : []),
      ...(has("switches") ? [String(row.chargeOn), String(row.dischargeOn)] : []),
      ...(has("mask") ? [String(row.mask)] : []),
      ...(has("flags") ? [String(row.flags)] : []),
      ...(style.insulation ? [String(row.insulationKiloohm)] : []),
    ].join(style.delimiter);
  });
  return `${header.join(style.delimiter)}\n${lines.join("\n")}\n`;
}

function someRows(rows: number, count: number, chance: Chance): Set<number> {
  return new Set(Array.from({ length: count }, () => chance.integer(2, Math.max(2, rows - 3))));
}
