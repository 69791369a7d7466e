import type { Dimension } from "@/lib/readings/column-unit";
import { dimensionsOf, type Quantity } from "@/lib/readings/quantity";
import { temperatureOfWords } from "@/lib/readings/temperature-names";

/**
 * Names of columns as header words (header-words.ts), without unit and without number.
 *
 * Sources: Battery Data Format ontology 1.3.0 (LF Energy Battery Data Alliance, Apache-2.0), preferred labels, notations and
 * alternative labels of the terms used here; SunSpec model 802 point names (Apache-2.0); ROS 2 sensor_msgs/BatteryState field
 * names (Apache-2.0); open-lab and PyProBE headers; our own labels; the rest, with the words of other languages that dealers' tools
 * write (German, Spanish, French, Italian, Portuguese, Dutch; accents taken off), is common practice, no source.
 */
const namesOf: Readonly<Partial<Record<Quantity, readonly string[]>>> = {
  "test-time": [
    "test time",
    "elapsed time",
    "time elapsed",
    "relative time",
    "run time",
    "uptime",
    "seconds",
    "discharge time",
  ],
  "unix-time": [
    "unix time",
    "unix timestamp",
    "unix",
    "epoch",
    "epoch time",
    "posix time",
    "header stamp sec",
    "stamp sec",
  ],
  "time-of-some-kind": [
    "time",
    "timestamp",
    "time stamp",
    "date time",
    "datetime",
    "utc",
    "utc time",
    "local time",
    "record time",
    "t",
    "clock",
    "time of day",
    "zeit",
    "zeitstempel",
    "uhrzeit",
    "tiempo",
    "tijd",
  ],
  date: ["date", "day date", "record date", "datum", "fecha"],
  "pack-voltage": [
    "voltage",
    "pack voltage",
    "battery voltage",
    "total voltage",
    "terminal voltage",
    "pack",
    "v pack",
    "vpack",
    "u pack",
    "v bat",
    "vbat",
    "v batt",
    "vbatt",
    "v total",
    "voltage measured",
    "v",
    "volt",
    "volts",
    "pack volts",
    "battery volts",
    "spannung",
    "gesamtspannung",
    "packspannung",
    "voltaje",
    "voltaje total",
    "tensione",
    "tensao",
  ],
  current: [
    "current",
    "pack current",
    "battery current",
    "total current",
    "i",
    "i pack",
    "ipack",
    "i bat",
    "ibat",
    "i batt",
    "current measured",
    "a",
    "amp",
    "amps",
    "ampere",
    "amperes",
    "pack amps",
    "battery amps",
    "strom",
    "packstrom",
    "corriente",
    "courant",
    "stroom",
  ],
  // One direction in a column of its own; the other language words are common practice, no source.
  "charge-current": [
    "charge current",
    "charging current",
    "current charge",
    "ladestrom",
    "corriente de carga",
    "courant de charge",
    "corrente di carica",
    "corrente de carga",
    "laadstroom",
  ],
  "discharge-current": [
    "discharge current",
    "discharging current",
    "current discharge",
    "entladestrom",
    "corriente de descarga",
    "courant de decharge",
    "corrente di scarica",
    "corrente de descarga",
    "ontlaadstroom",
  ],
  // The other names of temperatures: temperature-names.ts.
  temperature: ["surface temperature", "temperature measured"],
  "ambient-temperature": ["ambient", "t ambient"],
  "mosfet-temperature": ["t mos", "t mosfet", "power stage temperature"],
  "state-of-charge": [
    "state of charge",
    "soc",
    "so c",
    "percentage",
    "relative state of charge",
    "rsoc",
    "pack soc",
    "battery soc",
    "soc percentage",
    "ladestand",
  ],
  "cycle-count": ["cycle count", "cycle", "cycles", "cycle index", "cycle number", "n cyc", "ncyc"],
  "net-capacity": ["net capacity"],
  "charge-switch": ["charge switch", "charge fet", "charge mosfet", "charge mos", "chg fet", "chg mos"],
  "discharge-switch": [
    "discharge switch",
    "discharge fet",
    "discharge mosfet",
    "discharge mos",
    "dsg fet",
    "dsg mos",
    "dischg fet",
  ],
  "balancing-mask": ["balancing mask", "balance mask", "balancing bits", "balancing"],
  "protection-flags": ["evt"],
  // Monitors have lists of their own: the open one is meant only where its name or our label stands there.
  "other-flags": ["protection flags", "protection flag"],
  insulation: ["insulation resistance", "insulation", "isolation resistance"],
  serial: [
    "serial",
    "serial number",
    "serial no",
    "pack serial",
    "pack serial number",
    "battery serial",
    "battery serial number",
    "sn",
    "s n",
  ],
};

/**
 * Words that are two things in the languages above or in one of them: "temps" is French for time and English for several
 * temperatures, "tempo" a speed in German, "tension" a pull, "spanning" a part of an English verb, "corrente" also a chain, and the words for
 * the state of charge also say whether a pack charges. They are read only where the heading states a unit that settles it;
 * without one a person is asked. "data" is not here: a date has no unit to settle it by.
 */
const namesWithUnitOf: Readonly<Partial<Record<Quantity, readonly string[]>>> = {
  "time-of-some-kind": ["temps", "tempo"],
  temperature: ["temps", "tmax", "tmin", "t max", "t min", "t avg"],
  "pack-voltage": ["tension", "tension total", "tension totale", "spanning"],
  current: ["corrente"],
  "state-of-charge": ["ladezustand", "estado de carga", "etat de charge", "stato di carica", "laadtoestand"],
};

const quantityByName: ReadonlyMap<string, Quantity> = new Map(
  Object.entries(namesOf).flatMap(([quantity, names]) =>
    names.map((name): [string, Quantity] => [name, quantityNamed(quantity)]),
  ),
);

function quantityNamed(name: string): Quantity {
  for (const quantity of quantities()) if (quantity === name) return quantity;
  throw new RangeError(`No quantity is called ${name}`);
}

function quantities(): Quantity[] {
  // Object.keys forgets the key type; the record above is exhaustive by its own type.
  return Object.keys(dimensionsOf) as Quantity[];
}

/** Names of a numbered cell column, its number taken out: "cell 7 voltage", "VC7", "cell_voltage[6]". */
const cellNames: ReadonlySet<string> = new Set([
  "cell",
  "cell voltage",
  "cell volt",
  "cell volts",
  "cell v",
  "cell u",
  "voltage cell",
  "voltage of cell",
  "v cell",
  "u cell",
  "vcell",
  "cellv",
  "c",
  "vc",
  "cv",
  "c v",
  "v c",
  "v",
  "u",
  "group",
  "group voltage",
  "series group",
  "series group voltage",
  "voltage group",
  "cell group voltage",
  "cell no",
  "cell number",
  "battery cell voltage",
  "zelle",
  "zelle u",
  "u zelle",
  "zellspannung",
  "zellenspannung",
  "spannung zelle",
  "celda",
  "tension celda",
  "voltaje celda",
  "cellule",
  "tension cellule",
  "cella",
  "tensione cella",
  "celula",
  "tensao celula",
  "celspanning",
]);

/** Names of a numbered temperature column, its number taken out: "T1", "NTC2"; the others: temperature-names.ts. */
const temperatureNames: ReadonlySet<string> = new Set([
  "t",
  "ntc",
  "surface temperature",
  "surface temperature t",
  "thermistor",
  "probe",
  "ts",
]);

/** Quantity named by header words without a number, or null; `stated` is the dimension of the unit in the heading, null without one. */
export function quantityOfName(name: string, stated: Dimension | null): Quantity | null {
  const withUnit = quantities().find(
    (quantity) =>
      stated !== null &&
      stated !== "count" &&
      dimensionsOf[quantity].includes(stated) &&
      namesWithUnitOf[quantity]?.includes(name),
  );
  return quantityByName.get(name) ?? withUnit ?? temperatureOfWords(name.split(" "));
}

/** Quantity named by header words from which one number was taken out, or null; `stated` as above. */
export function numberedQuantityOfName(name: string, stated: Dimension | null): "cell-voltage" | "temperature" | null {
  // Dutch for a cell, and in other files short for Celsius.
  if (cellNames.has(name) || (name === "cel" && stated === "voltage")) return "cell-voltage";
  return temperatureNames.has(name) || temperatureOfWords(name.split(" ")) === "temperature" ? "temperature" : null;
}
