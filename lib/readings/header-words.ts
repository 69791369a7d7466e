/**
 * Splits a column header into lower-case words, so that "Cell 01 Voltage / V", "cell01_voltage_v" and "cell01Voltage(V)"
 * become the same list. Letters and digits are separated, punctuation dropped, units spelled one way (`degc`, `ohm`, `kohm`,
 * `megohm`, `percent`, `ah`, `decik` for a tenth of a kelvin).
 *
 * Never throws; a header without letters or digits gives an empty list.
 */
export function headerWords(header: string): string[] {
  const spelled = header
    .slice(0, 200)
    .normalize("NFKC")
    .replace(/Â?[°º]\s*(?=[CFcf])/g, " deg")
    .replace(/[°º\uFFFD]\s*(?=[CF]\b)/g, " deg")
    .replace(/\bdeg\s+(?=[CcFf]\b)/g, " deg")
    .replace(/M(?:ega)?\s?(?:[Oo][Hh][Mm]s?|Ω|Ω)/g, " megohm ")
    .replace(/k(?:ilo)?\s?(?:[Oo][Hh][Mm]s?|Ω|Ω)/gi, " kohm ")
    .replace(/Ω|Ω/g, " ohm ")
    .replace(/%/g, " percent ")
    // Accents of any language: "tensión" and "tension" are one word.
    .normalize("NFD")
    .replace(/\p{M}+/gu, "")
    .replace(/\b0[.,]1\s*[x*]?\s*(?=K\b|deg)/gi, " deci")
    .replace(/\bA\s?[.·]\s?h\b/g, "Ah")
    .replace(/([a-z])([A-Z][a-z])/g, "$1 $2")
    .toLowerCase()
    .replace(/([a-z])(?=\d)|(\d)(?=[a-z])/g, "$1$2 ");
  const words = spelled.split(/[^a-z0-9]+/).filter((word) => word !== "");
  const last = words.length - 1;
  // "ampere_hour" and "milliampere_hour" are the machine names' spelling of Ah and mAh.
  if (words[last] === "hour" && words[last - 1] === "ampere") words.splice(last - 1, 2, "ah");
  if (words[last] === "hour" && words[last - 1] === "milliampere") words.splice(last - 1, 2, "mah");
  return words;
}

/** A heading without its numbers: what the columns of the groups of one pack have in common. */
export function headingStem(header: string): string {
  return headerWords(header)
    .filter((word) => !/^\d+$/.test(word))
    .join(" ");
}

/** Header without its unit, for display: "Temperature T1 / degC" becomes "Temperature T1". */
export function headerWithoutUnit(header: string): string {
  const cut = header.replace(/\s*(?:\/\s*[^/]*|\([^()]*\)|\[[^[\]]*[^\d[\]][^[\]]*\])\s*$/, "").trim();
  return cut === "" ? header.trim() : cut;
}
