const LONGEST_CHARACTERS = 100;

/**
 * A name under which a readings file may be saved, from the name it came with. Letters, digits and a few marks survive;
 * whatever else somebody put there cannot reach a header, a folder or a shell. Always ends in ".csv".
 */
export function safeFileName(name: string): string {
  const plain = name
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .replace(/[.]csv$/i, "")
    .replace(/[^A-Za-z0-9._-]+/g, "-")
    .slice(0, LONGEST_CHARACTERS)
    .replace(/^[-.]+|[-.]+$/g, "");
  return `${plain === "" ? "readings" : plain}.csv`;
}
