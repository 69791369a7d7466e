import { computeCheckCharacter, hasValidCheckCharacter } from "@/lib/packs/iso-7064";
import { withoutGrouping } from "@/lib/packs/typed-code";

const COMPACT = /^S([0-9]{2})([0-9]{4,6})([0-9A-Z])$/;

/** The short name of an incident, S-26-0007-K: S, year, number, check character (ISO/IEC 7064 MOD 37,36). */
export function makeIncidentReference(year: number, number: number): string {
  const isYear = Number.isInteger(year) && year >= 2000 && year <= 2099;
  if (!isYear || !Number.isInteger(number) || number < 1 || number > 999_999) {
    throw new RangeError(`no incident reference for number ${number} of year ${year}`);
  }
  const twoDigitYear = String(year - 2000).padStart(2, "0");
  const digits = String(number).padStart(4, "0");
  return `S-${twoDigitYear}-${digits}-${computeCheckCharacter(`S${twoDigitYear}${digits}`)}`;
}

/** The reference as stored; null where the text is none or its check character is wrong. */
export function readIncidentReference(typed: string): string | null {
  const compact = withoutGrouping(typed);
  const [, year, number, check] = COMPACT.exec(compact) ?? [];
  if (year === undefined || number === undefined || check === undefined || !hasValidCheckCharacter(compact))
    return null;
  return `S-${year}-${number}-${check}`;
}
