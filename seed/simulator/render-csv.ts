import type { CsvStyle, OptionalColumn } from "./csv-style";
import type { SimulatedLog } from "./simulated-log";

interface Column {
  readonly header: string;
  readonly part: OptionalColumn | "always";
  readonly text: (row: number) => string;
}

/** The log as the bytes a dealer would send (UTF-8, line feeds), written in the given style. */
export function renderCsv(log: SimulatedLog, style: CsvStyle): string {
  const columns = columnsOf(log, style).filter(({ part }) => part === "always" || !style.omit.includes(part));
  const lines: string[] = [];
  if (style.preamble) {
    lines.push(`# Serial: ${log.serial}`, `# Groups: ${log.cellV.length}`);
  }
  lines.push(columns.map(({ header }) => header).join(style.delimiter));
  for (let row = 0; row < log.timeS.length; row++) {
    let line = "";
    for (const column of columns) {
      line += (line === "" ? "" : style.delimiter) + column.text(row);
    }
    lines.push(line);
  }
  if (style.truncatedRow) {
    const last = lines.pop() ?? "";
    lines.push(last.slice(0, Math.floor(last.length * 0.6)));
    return lines.join("\n");
  }
  return `${lines.join("\n")}\n`;
}

function columnsOf(log: SimulatedLog, style: CsvStyle): Column[] {
  const number = decimals(style.decimalComma);
  const sign = style.currentSign === "charge-positive" ? 1 : -1;
  const clock = clockSeconds(log, style);
  const millivolts = style.cellUnit === "mV";
  const always = "always" as const;
  const cells = log.cellV.map((column, k): Column => {
    return {
      header: `Cell ${String(k + 1).padStart(2, "0")} Voltage / ${style.cellUnit}`,
      part: always,
      text: (row) => (millivolts ? String(Math.round((column[row] ?? 0) * 1000)) : number(column[row] ?? 0, 3)),
    };
  });
  const probes = log.probeC.map((column, p): Column => {
    return { header: `Temperature T${p + 1} / degC`, part: always, text: (row) => number(column[row] ?? 0, 1) };
  });
  const whole = (list: readonly number[]) => (row: number) => String(list[row] ?? 0);
  return [
    {
      header: style.clock === "unix" ? "Unix Time / s" : "Test Time / s",
      part: always,
      text: (row) => String(clock[row] ?? 0),
    },
    { header: "Voltage / V", part: always, text: (row) => number(log.packV[row] ?? 0, 2) },
    {
      header: sign === 1 ? "Current / A" : "Current [A]",
      part: always,
      text: (row) => number(sign * (log.currentA[row] ?? 0) + 0, 2),
    },
    ...cells,
    ...probes,
    { header: "MOSFET Temperature / degC", part: "stage", text: (row) => number(log.stageC[row] ?? 0, 1) },
    { header: "State of Charge / %", part: "soc", text: (row) => number(log.socPercent[row] ?? 0, 1) },
    { header: "Cycle Count / 1", part: "cycles", text: () => String(log.cycleCount) },
    { header: "Charge Switch / 1", part: "switches", text: whole(log.chargeSwitch) },
    { header: "Discharge Switch / 1", part: "switches", text: whole(log.dischargeSwitch) },
    { header: "Balancing Mask / 1", part: "balancing", text: whole(log.balancingMask) },
    { header: "Protection Flags / 1", part: "flags", text: whole(log.protectionFlags) },
  ];
}

/** What the board's clock read in each row: it starts again from 0 at a reset, or reads 0 once. */
function clockSeconds(log: SimulatedLog, style: CsvStyle): number[] {
  let offset = style.clock === "unix" ? log.startUnixS : -(log.timeS[0] ?? 0);
  const clock = log.timeS.map((timeS, row) => {
    if (log.clockResetRows.includes(row)) {
      offset = -timeS;
    }
    return timeS + offset;
  });
  if (style.clockResetRow && clock.length > 2) {
    clock[Math.floor(clock.length / 2)] = 0;
  }
  return clock;
}

/** Fixed decimals from whole numbers: several times faster than toFixed, which dominates otherwise. */
function decimals(comma: boolean): (quantity: number, places: 1 | 2 | 3) => string {
  const mark = comma ? "," : ".";
  return (quantity, places) => {
    const scale = places === 1 ? 10 : places === 2 ? 100 : 1000;
    const scaled = Math.round(Math.abs(quantity) * scale);
    const rest = String(scaled % scale).padStart(places, "0");
    return `${quantity < 0 && scaled !== 0 ? "-" : ""}${Math.floor(scaled / scale)}${mark}${rest}`;
  };
}
