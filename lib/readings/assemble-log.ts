import type { PackModel } from "@/lib/packs/pack-model";
import { assembleTime } from "@/lib/readings/assemble-time";
import { cellColumns } from "@/lib/readings/cell-columns";
import type { ColumnMeaning } from "@/lib/readings/column-meaning";
import { inferCurrentSign } from "@/lib/readings/current-sign";
import type { DecodedColumns } from "@/lib/readings/decoded-columns";
import { currentDeniedByResistance, deniedUnits } from "@/lib/readings/denied-units";
import { headerWithoutUnit } from "@/lib/readings/header-words";
import { joinDirections } from "@/lib/readings/join-directions";
import { otherLogBelow } from "@/lib/readings/other-tables";
import type { PerhapsReading } from "@/lib/readings/plan-columns";
import type { Quantity } from "@/lib/readings/quantity";
import type { ReadingDoubts } from "@/lib/readings/reading-doubts";
import type { ReadingFileSummary, ReadingLog } from "@/lib/readings/reading-log";
import { temperatureSlots } from "@/lib/readings/repeated-heat";
import { dropImpossibleSoc } from "@/lib/readings/soc-range";
import { coverageShare, gapLimitS, rowsWithVoltage } from "@/lib/readings/time-gaps";
import { convertUnits } from "@/lib/readings/unit-inference";
import type { UnusableFile } from "@/lib/readings/unusable-file";

export interface AssembledLog {
  readonly kind: "log";
  readonly log: ReadingLog;
  readonly summary: ReadingFileSummary;
  readonly doubts: ReadingDoubts;
}

/**
 * Turns decoded columns into a ReadingLog: units, order and repair of time, series groups, direction of current. The arrays of
 * `read` are converted in place and become part of the log.
 */
export function assembleLog(
  read: DecodedColumns,
  model: PackModel | undefined,
  timeZone: string | null = null,
  builtUnixS: number | null = null,
  receivedUnixS: number | null = null,
): AssembledLog | UnusableFile {
  const joined = joinDirections(read);
  const { decoded } = joined;
  const { plan, rows, columns } = decoded;
  const units = convertUnits(plan.columns, columns, model, decoded.line);
  const heat = temperatureSlots(plan.columns, columns);
  const remarks = [...plan.remarks, ...decoded.wordsInColumns, ...joined.remarks, ...units.remarks, ...heat.remarks];
  const denied = new Map(deniedUnits(plan.columns, columns, units.unitOfField, units.overruled));
  const time = assembleTime(decoded, timeZone, builtUnixS, receivedUnixS);
  remarks.push(...time.remarks);
  const otherLog = otherLogBelow(decoded.headersAgain, time.stepRows, decoded.line);
  const contradictions = [...plan.contradicted.values(), ...(otherLog === null ? [] : [otherLog])];
  remarks.push(...contradictions);

  const first = (quantity: Quantity): Float64Array | null =>
    columns[plan.columns.findIndex((column) => column.meaning.quantity === quantity)] ?? null;
  const packVoltageV = first("pack-voltage");
  const cells = cellColumns(plan.columns, columns, packVoltageV, rows, model, plan.unknown);
  if (cells.kind === "unusable") return cells;
  remarks.push(...cells.remarks);

  const currentA = first("current");
  const socPercent = first("state-of-charge");
  remarks.push(...dropImpossibleSoc(socPercent, decoded.line));
  const longestStepS = gapLimitS(time.timeS, time.segment);
  const currentColumn = plan.columns.find((column) => column.meaning.quantity === "current");
  const stated = statedSign(currentColumn);
  // A person who left the direction open confirmed none, whatever the heading says.
  const said = currentColumn?.meaning.statedSign ?? null;
  const confirmed = said === null ? null : (currentColumn?.meaning.confirmed ?? null);
  const verdict =
    currentA === null
      ? ({
          sign: "unknown",
          told: null,
          isDenied: false,
          stepOhm: null,
          sentence: "The file has no current column; nothing that needs a current can be told from it.",
        } as const)
      : inferCurrentSign(
          { timeS: time.timeS, segment: time.segment, currentA, voltageV: cells.levelV, socPercent, longestStepS },
          stated,
          confirmed,
        );
  remarks.push(verdict.sentence);
  const followed = verdict.sign === "unknown" ? stated : verdict.sign;
  if (currentA !== null && followed === "discharge-positive")
    for (let row = 0; row < rows; row++) currentA[row] = 0 - (currentA[row] ?? Number.NaN);

  if (socPercent === null) remarks.push("The file has no state of charge.");
  const groupsInLevel = cells.levelV === packVoltageV ? cells.cellVoltagesV.length : 1;
  const groupOhm = verdict.stepOhm === null ? null : verdict.stepOhm / groupsInLevel;
  const deniedCurrent =
    currentColumn === undefined || groupOhm === null ? null : currentDeniedByResistance(currentColumn, groupOhm, model);
  if (currentColumn !== undefined && deniedCurrent !== null) denied.set(currentColumn.field, deniedCurrent);
  remarks.push(...[...denied.values()].map(({ why }) => why));
  const temperaturesIn = (slots: readonly number[]) =>
    slots.flatMap((slot) => {
      const [column, valuesC] = [plan.columns[slot], columns[slot]];
      return column === undefined || valuesC === undefined ? [] : [{ name: headerWithoutUnit(column.header), valuesC }];
    });
  const leftOut = temperaturesIn(heat.leftOut);
  const log: ReadingLog = {
    rows,
    timeS: time.timeS,
    segment: time.segment,
    startUnixS: time.startUnixS,
    line: decoded.line,
    packVoltageV: packVoltageV ?? new Float64Array(rows).fill(Number.NaN),
    currentA: currentA ?? new Float64Array(rows).fill(Number.NaN),
    cellVoltagesV: cells.cellVoltagesV,
    temperatures: temperaturesIn(heat.probes),
    ...(leftOut.length === 0 ? {} : { leftOutTemperatures: leftOut }),
    ambientTemperatureC: first("ambient-temperature"),
    mosfetTemperatureC: first("mosfet-temperature"),
    socPercent,
    cycleCount: first("cycle-count"),
    netCapacityAh: first("net-capacity"),
    chargeSwitch: first("charge-switch"),
    dischargeSwitch: first("discharge-switch"),
    balancingMask: first("balancing-mask"),
    protectionFlags: first("protection-flags") ?? flagsFromBits(decoded),
    otherFlags: anyFlags(decoded),
    insulationKiloohm: first("insulation"),
  };
  const flows = currentA?.some((value) => value !== 0 && Number.isFinite(value)) === true;
  return {
    kind: "log",
    log,
    doubts: {
      unitOfField: Object.fromEntries(units.unitOfField),
      unitsBySize: plan.columns
        .filter(
          ({ field, meaning }) =>
            meaning.unit === null && meaning.confirmed === undefined && units.unitOfField.has(field),
        )
        .map(({ field }) => field),
      sign: flows && (stated === null || verdict.isDenied) ? { told: verdict.told, why: verdict.sentence } : null,
      flagsOfNoList: plan.columns
        .filter(({ meaning }, slot) => meaning.quantity === "other-flags" && isRaised(columns[slot], meaning.confirmed))
        .map(({ field }) => field),
      openHeadings: {
        ...Object.fromEntries([...plan.unasked].map(([field, perhaps]) => [field, perhapsReading[perhaps]])),
        ...Object.fromEntries(plan.contradicted),
        ...joined.open,
        ...heat.open,
      },
      openDayOrder: plan.openDayOrder,
      deniedUnits: Object.fromEntries(denied),
      lacksZone: time.lacksZone && timeZone === null,
    },
    summary: {
      rows,
      rejected: decoded.rejected,
      rejectedNotListed: decoded.rejectedNotListed,
      groups: cells.cellVoltagesV.length,
      currentSign: verdict.sign,
      coverage: coverageShare(
        time.timeS,
        time.segment,
        longestStepS,
        rowsWithVoltage([...cells.cellVoltagesV, ...(packVoltageV === null ? [] : [packVoltageV])], rows),
      ),
      timeRepairs: time.repairs,
      serialInFile: decoded.serial,
      builtUnixS,
      ...(contradictions.length === 0 ? {} : { contradictions }),
      remarks,
    },
  };
}

const perhapsReading: Readonly<Record<PerhapsReading, string>> = {
  temperature:
    "This heading is not known, and it may be a temperature. It is left out, and no heat is seen in it, unless you say what it is.",
  current:
    "This heading is not known, its unit is that of a current, and the file has no other. It is left out unless you say what it is.",
  voltage:
    "This heading is not known, its unit is that of a voltage, and the file has no pack voltage. It is left out unless you say what it is.",
};

/** Flags that stand in no row raise no question. */
function isRaised(words: Float64Array | undefined, confirmed: ColumnMeaning["confirmed"]): boolean {
  return confirmed === undefined && words?.some((word) => word > 0) === true;
}

/** The Battery Data Format fixes charging as positive for its labels; other headers state nothing unless they say so. */
function statedSign(
  column:
    | {
        readonly header: string;
        readonly meaning: { readonly statedSign: "charge-positive" | "discharge-positive" | null };
      }
    | undefined,
) {
  if (column === undefined) return null;
  if (column.meaning.statedSign !== null) return column.meaning.statedSign;
  return /^(?:current \/ a|current_ampere|current_a)$/i.test(column.header.trim()) ? "charge-positive" : null;
}

/** One word from one column a protection bit; null where the file has none. A row with no readable bit stays NaN. */
function flagsFromBits({ plan, columns, rows }: DecodedColumns): Float64Array | null {
  const bits = plan.columns.flatMap((column, slot) =>
    column.meaning.quantity === "protection-bit" && column.meaning.number !== null
      ? [{ bit: column.meaning.number, slot }]
      : [],
  );
  if (bits.length === 0) return null;
  const flags = new Float64Array(rows).fill(Number.NaN);
  for (const { bit, slot } of bits) {
    columns[slot]?.forEach((value, row) => {
      if (!Number.isFinite(value)) return;
      const before = flags[row] ?? Number.NaN;
      flags[row] = (Number.isNaN(before) ? 0 : before) + (value === 0 ? 0 : 2 ** bit);
    });
  }
  return flags;
}

/** Flags of no known list; of several columns in each row the first that is raised. Null where there are none. */
function anyFlags({ plan, columns }: DecodedColumns): Float64Array | null {
  const [first, ...others] = plan.columns.flatMap(({ meaning }, slot) =>
    meaning.quantity === "other-flags" ? [columns[slot] ?? new Float64Array()] : [],
  );
  if (first === undefined || others.length === 0) return first ?? null;
  return first.map(
    (value, row) => [value, ...others.map((column) => column[row] ?? Number.NaN)].find((one) => one > 0) ?? value,
  );
}
