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
  const rounded = Number(Math.abs(value).toPrecision(DIGITS));
  const sign = value < 0 && rounded > 0 ? "−" : "";
  const words = Object.hasOwn(unitWords, unit) ? (unitWords[unit] ?? unit) : unit;
  return words === "" ? `${sign}${rounded}` : `${sign}${rounded} ${words}`;
}
