import { tzOffset } from "@date-fns/tz";

/**
 * Unix seconds of a local time in an IANA zone, both counted from 1970. A time that occurs twice (the hour summer time ends) is the
 * first of the two, one that does not occur at all is read with the offset before the change.
 */
export function unixOfLocal(localS: number, timeZone: string): number {
  const offsetS = (unixS: number) => tzOffset(timeZone, new Date(unixS * 1000)) * 60;
  const before = localS - offsetS(localS - 86_400);
  const after = localS - offsetS(localS + 86_400);
  return before + offsetS(before) === localS || after + offsetS(after) !== localS ? before : after;
}
