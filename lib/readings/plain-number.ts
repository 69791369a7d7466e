/**
 * A number as people write it: no exponent, thousands set off by a comma ("3,850"), at least three figures where it has decimals.
 * For finite values of the size of readings; the text is English, as the remarks are.
 */
export function plainNumber(value: number): string {
  const size = Math.abs(value);
  const decimals = size >= 100 || size === 0 ? 0 : size >= 10 ? 1 : size >= 1 ? 2 : 4;
  const [whole = "0", fraction = ""] = size.toFixed(decimals).split(".");
  const kept = fraction.replace(/0+$/, "");
  return `${value < 0 ? "−" : ""}${whole.replace(/\B(?=(?:\d{3})+$)/g, ",")}${kept === "" ? "" : `.${kept}`}`;
}
