import { seedFrom } from "../simulator/seeded-random";

/**
 * An identifier in the form of a UUID version 7 (RFC 9562, section 5.7) that is the same on each run: the time stamp is
 * the given instant, the rest comes from the text. Only for demo data; real ones must be unguessable.
 */
export function stableId(kind: string, key: string, instant: string): string {
  const time = Math.max(0, Date.parse(instant)).toString(16).padStart(12, "0").slice(-12);
  const bits = [0, 1, 2].map((part) => seedFrom(`${kind}/${key}/${part}`).toString(16).padStart(8, "0"));
  const rest = bits.join("");
  const variant = "89ab".charAt(seedFrom(`${kind}/${key}/variant`) % 4);
  return [
    time.slice(0, 8),
    time.slice(8),
    `7${rest.slice(0, 3)}`,
    `${variant}${rest.slice(3, 6)}`,
    rest.slice(6, 18),
  ].join("-");
}
