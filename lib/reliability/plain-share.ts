/**
 * A share in words for a sentence: "2.4 in 100". One decimal below 10, none above; what rounds to nothing is "fewer
 * than 0.1 in 100", because "0 in 100" would claim that it never happens. Domain: 0 to 1.
 */
export function inHundred(share: number): string {
  if (!(share >= 0 && share <= 1)) throw new RangeError(`share must lie between 0 and 1, got ${share}`);
  return share > 0 && share < 0.0005 ? "fewer than 0.1 in 100" : `${hundredths(share)} in 100`;
}

/** "between 1.1 and 5.3 in 100". */
export function inHundredBetween(lower: number, upper: number): string {
  return `between ${hundredths(lower)} and ${inHundred(upper)}`;
}

function hundredths(share: number): string {
  const percent = share * 100;
  if (percent >= 9.95) return percent.toFixed(0);
  return percent.toFixed(1).replace(/[.]0$/, "");
}

/** 12345 as "12,345": grouped in threes, without asking the machine for its locale. */
export function grouped(count: number): string {
  return String(count).replace(/\B(?=([0-9]{3})+$)/g, ",");
}

export function packsInWords(count: number): string {
  return count === 1 ? "1 pack" : `${grouped(count)} packs`;
}

export function returnsInWords(count: number): string {
  return count === 1 ? "1 return" : `${grouped(count)} returns`;
}

/** "p = 0.012", "p below 0.001". */
export function sayP(p: number): string {
  return p < 0.001 ? "p below 0.001" : `p = ${p.toPrecision(2)}`;
}

export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
