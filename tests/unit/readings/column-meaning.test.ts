import { expect, test } from "vitest";
import { columnMeaning } from "@/lib/readings/column-meaning";

function shortMeaning(header: string): string | null {
  const meaning = columnMeaning(header);
  if (meaning === null) return null;
  const number = meaning.number === null ? "" : ` ${meaning.number}`;
  return `${meaning.quantity}${number}${meaning.unit === null ? "" : ` in ${meaning.unit.symbol}`}`;
}

test.each([
  // Our own labels.
  ["Cell 01 Voltage / V", "cell-voltage 1 in V"],
  ["Temperature T1 / degC", "temperature 1 in degC"],
  ["MOSFET Temperature / degC", "mosfet-temperature in degC"],
  ["State of Charge / %", "state-of-charge in %"],
  ["Cycle Count / 1", "cycle-count in 1"],
  ["Charge Switch / 1", "charge-switch in 1"],
  ["Discharge Switch / 1", "discharge-switch in 1"],
  ["Balancing Mask / 1", "balancing-mask in 1"],
  ["Protection Flags / 1", "protection-flags in 1"],
  // Open-lab header of the DiffCapAnalyzer example CSV, and PyProBE columns.
  ["Test_Time(s)", "test-time in s"],
  ["Date_Time", "time-of-some-kind"],
  ["Current(A)", "current in A"],
  ["Voltage(V)", "pack-voltage in V"],
  ["Current [A]", "current in A"],
  ["Time [s]", "time-of-some-kind in s"],
  // ROS 2 sensor_msgs/BatteryState, and SunSpec model 802.
  ["percentage", "state-of-charge"],
  ["cell_voltage[0]", "cell-voltage 0"],
  ["cell_temperature[3]", "temperature 3"],
  ["Evt1", "protection-flags in 1"],
  ["Protection Flags", "other-flags"],
  ["protection_flag", "other-flags"],
  ["CONTACTOR_ERROR", "protection-bit 20"],
  // Cells as people name them (common practice, no source).
  ["cell1", "cell-voltage 1"],
  ["c01_V", "cell-voltage 1 in V"],
  ["Cell 1 (mV)", "cell-voltage 1 in mV"],
  ["VC1", "cell-voltage 1"],
  ["cellVoltage12", "cell-voltage 12"],
  ["Voltage Cell 3 [mV]", "cell-voltage 3 in mV"],
  ["Cell 3 Temperature (°C)", "temperature 3 in degC"],
  // Units spelled in their several ways.
  ["MOSFET Temperature / °C", "mosfet-temperature in degC"],
  ["Temperature (0.1 K)", "temperature in 0.1 K"],
  ["Temperature T2 / K", "temperature 2 in K"],
  ["Insulation Resistance / kOhm", "insulation in kohm"],
  ["Insulation / MΩ", "insulation in Mohm"],
  ["Pack Current (mA)", "current in mA"],
  ["Unix Time / ms", "unix-time in ms"],
  // Words of two meanings, where the unit settles which (common practice, no source).
  ["Temps (s)", "time-of-some-kind in s"],
  ["Temps (°C)", "temperature in degC"],
  ["Tempo [s]", "time-of-some-kind in s"],
  ["Tension (V)", "pack-voltage in V"],
  ["Spanning [V]", "pack-voltage in V"],
  ["Corrente (A)", "current in A"],
  ["Ladezustand [%]", "state-of-charge in %"],
  ["Cel 3 [mV]", "cell-voltage 3 in mV"],
])("%s means %s", (header, meaning) => expect(shortMeaning(header)).toBe(meaning));

test.each([
  "",
  "Step Time / s",
  "Power / W",
  "Voltage / A",
  "Current / V",
  "Cell 401 Voltage / V",
  "Module 1 Cell 3",
  "remarks",
  // Times in one language and temperatures, speeds, pulls, chains, readings or a state of charging in another.
  "Temps",
  "Tempo",
  "Tempo [km/h]",
  "Tension",
  "Spanning",
  "Corrente",
  "Data",
  "Ladezustand",
  "Estado de carga",
  "Etat de charge / 1",
  "Cel 3",
  "12",
  "°",
])("%j is not taken for anything", (header) => expect(columnMeaning(header)).toBeNull());

test("a sign and the word raw are read out of a header", () => {
  expect(columnMeaning("current_A_discharge_positive")).toMatchObject({
    quantity: "current",
    statedSign: "discharge-positive",
  });
  expect(columnMeaning("t01_raw")).toMatchObject({ quantity: "temperature", number: 1, raw: true });
});
