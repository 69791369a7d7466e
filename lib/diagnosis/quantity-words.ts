/** How units are printed; one that is not here is printed as it is stored. */
const unitWords: Readonly<Record<string, string>> = {
  mOhm: "mΩ",
  Ohm: "Ω",
  uOhm: "µΩ",
  degC: "°C",
  K: "K",
  "K/1000 A2": "K per 1,000 A²",
  "1": "",
};

const DIGITS = 4;

/** A value with its unit, to four significant digits, with a true minus sign: "0.3847 mΩ". Domain: finite values. */
export function sayQuantity(value: number, unit: string): string {
  if (!Number.isFinite(value)) throw new RangeError(`a quantity must be finite, got ${value}`);
  return withUnit(signed(value, String(Number(Math.abs(value).toPrecision(DIGITS)))), unit);
}

/** Digits of an uncertainty that mean something: JCGM 100:2008, 7.2.6, at most two (from memory: verify). */
const UNCERTAIN_DIGITS = 2;

/** An uncertainty with its unit, to two significant digits: "0.4 mΩ". Domain: finite, not negative. */
export function sayUncertain(uncertainty: number, unit: string): string {
  return withUnit(String(Number(uncertainty.toFixed(placesKnown(uncertainty)))), unit);
}

/** A value with its unit, to the last place its uncertainty means something in: 13.0604 known to 0.396 is "13.06 mΩ". Domain: finite values. */
export function sayKnownTo(value: number, uncertainty: number, unit: string): string {
  if (uncertainty === 0) return sayQuantity(value, unit);
  return withUnit(signed(value, String(Number(Math.abs(value).toFixed(placesKnown(uncertainty))))), unit);
}

/** More places than these no reading has. */
const MOST_PLACES = 12;

/** Places after the point that mean something in a value of this uncertainty, above 0; 0 gives none. */
export function placesKnown(uncertainty: number): number {
  if (uncertainty === 0) return 0;
  // Rounded first: 0.0996 to two digits is 0.10, not 0.100.
  const rounded = Number(uncertainty.toPrecision(UNCERTAIN_DIGITS));
  return Math.min(MOST_PLACES, Math.max(0, UNCERTAIN_DIGITS - 1 - Math.floor(Math.log10(rounded))));
}

function signed(value: number, digits: string): string {
  return value < 0 && Number(digits) > 0 ? `−${digits}` : digits;
}

function withUnit(digits: string, unit: string): string {
  const words = Object.hasOwn(unitWords, unit) ? (unitWords[unit] ?? unit) : unit;
  return words === "" ? digits : `${digits} ${words}`;
}
