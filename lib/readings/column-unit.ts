/** What a column measures, as far as its unit tells. */
export type Dimension = "voltage" | "current" | "time" | "temperature" | "share" | "count" | "charge" | "resistance";

/** How a logged number becomes ours: ours = logged x scale + offset. */
export interface ColumnUnit {
  readonly dimension: Dimension;
  /** As it is written in a sentence. */
  readonly symbol: string;
  readonly scale: number;
  readonly offset: number;
}

/** Zero of the Celsius scale, K. Definition in the SI; value from memory. */
const celsiusZeroK = 273.15;

function unit(dimension: Dimension, symbol: string, scale: number, offset = 0): ColumnUnit {
  return { dimension, symbol, scale, offset };
}

const volt = unit("voltage", "V", 1);
const millivolt = unit("voltage", "mV", 1e-3);
const ampere = unit("current", "A", 1);
const milliampere = unit("current", "mA", 1e-3);
const second = unit("time", "s", 1);
const millisecond = unit("time", "ms", 1e-3);
const minute = unit("time", "min", 60);
const hour = unit("time", "h", 3600);
const celsius = unit("temperature", "degC", 1);
const kelvin = unit("temperature", "K", 1, -celsiusZeroK);
const percent = unit("share", "%", 1);
const one = unit("count", "1", 1);
const ampereHour = unit("charge", "Ah", 1);
const kiloohm = unit("resistance", "kohm", 1);

const milliampereHour = unit("charge", "mAh", 1e-3);
export const decikelvin = unit("temperature", "0.1 K", 0.1, -celsiusZeroK);
export const kelvinUnit = kelvin;
export const millivoltUnit = millivolt;
export const milliampereUnit = milliampere;
/** One byte counted from -40 degC upwards, as vehicle messages carry it (common practice, no source). */
export const celsiusPlus40 = unit("temperature", "degC + 40", 1, -40);
export const fractionOfOne = unit("share", "0 to 1", 100);

const unitsByWord: Readonly<Record<string, ColumnUnit>> = {
  v: volt,
  volt: volt,
  volts: volt,
  mv: millivolt,
  millivolt: millivolt,
  millivolts: millivolt,
  a: ampere,
  amp: ampere,
  amps: ampere,
  ampere: ampere,
  amperes: ampere,
  ma: milliampere,
  milliamp: milliampere,
  milliampere: milliampere,
  s: second,
  sec: second,
  secs: second,
  second: second,
  seconds: second,
  ms: millisecond,
  msec: millisecond,
  millisecond: millisecond,
  milliseconds: millisecond,
  us: unit("time", "us", 1e-6),
  ns: unit("time", "ns", 1e-9),
  nanosec: unit("time", "ns", 1e-9),
  min: minute,
  minute: minute,
  minutes: minute,
  h: hour,
  hr: hour,
  hrs: hour,
  hour: hour,
  hours: hour,
  degc: celsius,
  c: celsius,
  cel: celsius,
  celsius: celsius,
  decidegc: unit("temperature", "0.1 degC", 0.1),
  k: kelvin,
  kelvin: kelvin,
  decik: decikelvin,
  dk: decikelvin,
  degf: unit("temperature", "degF", 5 / 9, -160 / 9),
  fahrenheit: unit("temperature", "degF", 5 / 9, -160 / 9),
  percent: percent,
  pct: percent,
  "1": one,
  dimensionless: one,
  ah: ampereHour,
  mah: milliampereHour,
  ohm: unit("resistance", "ohm", 1e-3),
  ohms: unit("resistance", "ohm", 1e-3),
  kohm: kiloohm,
  kiloohm: kiloohm,
  kiloohms: kiloohm,
  megohm: unit("resistance", "Mohm", 1e3),
  megaohm: unit("resistance", "Mohm", 1e3),
};

/** Unit named by one word of a split header (see header-words.ts), or null where the word is no unit. */
export function unitOfWord(word: string): ColumnUnit | null {
  return Object.hasOwn(unitsByWord, word) ? (unitsByWord[word] ?? null) : null;
}

/** The unit in which a heading of several words ends; null where it ends in none, and for a lone word, which is a name. */
export function unitAtEnd(words: readonly string[]): ColumnUnit | null {
  return words.length > 1 ? unitOfWord(words.at(-1) ?? "") : null;
}

const unitsToChoose: readonly ColumnUnit[] = [
  ...new Set([...Object.values(unitsByWord), decikelvin, celsiusPlus40, fractionOfOne]),
];
const unitsBySymbol: ReadonlyMap<string, ColumnUnit> = new Map(unitsToChoose.map((each) => [each.symbol, each]));

/** Unit by the symbol it has in a sentence, or null where there is none of that symbol. */
export function unitOfSymbol(symbol: string): ColumnUnit | null {
  return unitsBySymbol.get(symbol) ?? null;
}

/** Symbols a person may choose from for a column of one of these dimensions; none where the column has no unit. */
export function symbolsOf(dimensions: readonly Dimension[]): string[] {
  const symbols = [...unitsBySymbol.values()].filter(({ dimension }) => dimensions.includes(dimension));
  return [...new Set(symbols.map(({ symbol }) => symbol))];
}
