/**
 * One decoded readings file, column-wise, before any judgement of it.
 *
 * Every array has `rows` entries. `NaN` means "not measured in this row". Values stay as they were logged (units
 * converted, sentinels and impossible values kept), because the acute screen must see the raw rows; what is usable for
 * which purpose is decided by the validity masks.
 *
 * Current is positive when charging, everywhere inside; the decoder converts.
 * Series groups are numbered from 1 at the negative end, so `cellVoltagesV[0]` is group 1.
 */
export interface ReadingLog {
  readonly rows: number;
  /** Seconds since the first row, after time repair: never decreasing inside a segment. */
  readonly timeS: Float64Array;
  /** Clock segment of each row, from 0. Nothing is integrated or differenced across a change of segment. */
  readonly segment: Int32Array;
  /** Unix time of the first row in seconds, where the file carries a believable date; else null. */
  readonly startUnixS: number | null;
  /** Line of each row in the original file, from 1. */
  readonly line: Int32Array;
  readonly packVoltageV: Float64Array;
  readonly currentA: Float64Array;
  readonly cellVoltagesV: readonly Float64Array[];
  readonly temperatures: readonly TemperatureColumn[];
  /** Temperatures a person said to leave out: searched for an emergency, and judged by in nothing else. */
  readonly leftOutTemperatures?: readonly TemperatureColumn[];
  readonly ambientTemperatureC: Float64Array | null;
  readonly mosfetTemperatureC: Float64Array | null;
  readonly socPercent: Float64Array | null;
  readonly cycleCount: Float64Array | null;
  /** Charge counted by the monitor itself, Ah, in the sign and reset convention of the file: for comparison only. */
  readonly netCapacityAh: Float64Array | null;
  /** 1 while the switch is commanded on, 0 while off. */
  readonly chargeSwitch: Float64Array | null;
  readonly dischargeSwitch: Float64Array | null;
  /** Bit k-1 set while group k is being balanced. */
  readonly balancingMask: Float64Array | null;
  /** Words of flags whose bits nobody gave a meaning: raised where they are not 0. */
  readonly otherFlags: Float64Array | null;
  /** SunSpec model 802 `Evt1` bits (Apache-2.0 vocabulary): see protection-flags.ts. */
  readonly protectionFlags: Float64Array | null;
  readonly insulationKiloohm: Float64Array | null;
}

export interface TemperatureColumn {
  /** Name as it stands in the file without its unit, e.g. "Temperature T1". */
  readonly name: string;
  readonly valuesC: Float64Array;
}

export interface RejectedRow {
  /** Line in the original file, from 1. */
  readonly line: number;
  /** One plain sentence. */
  readonly reason: string;
}

export type CurrentSign = "charge-positive" | "discharge-positive" | "unknown";

/** What the decoder found out about the file besides the values. */
export interface ReadingFileSummary {
  readonly rows: number;
  readonly rejected: readonly RejectedRow[];
  /** Rejected rows beyond those listed (the list is capped so that a hostile file cannot fill memory). */
  readonly rejectedNotListed: number;
  readonly groups: number;
  readonly currentSign: CurrentSign;
  /** Share of the time span that is covered by usable intervals, 0 to 1. */
  readonly coverage: number;
  readonly timeRepairs: number;
  /** Serial named inside the file (preamble or column), if any: checked against the pack by the caller. */
  readonly serialInFile: string | null;
  /** Day the pack was built, Unix s at its start, as whoever handed the file over knows it; not from the file. */
  readonly builtUnixS?: number | null;
  /** Plain sentences: what the file says in two ways, so that no pack is called sound by it. Missing where it says all in one. */
  readonly contradictions?: readonly string[];
  /** Plain sentences: what was assumed, converted or repaired, and what a reader must know. */
  readonly remarks: readonly string[];
}
