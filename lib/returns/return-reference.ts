import { computeCheckCharacter, hasValidCheckCharacter } from "@/lib/packs/iso-7064";
import { partsOfPaste, withoutGrouping } from "@/lib/packs/typed-code";

declare const referenceBrand: unique symbol;

/** The short name of a return that people say and write, as shown: R-26-00417-S. */
export type ReturnReference = string & { readonly [referenceBrand]: true };

/** R, two digits of the year, five to seven of the sequence within it, a check character (ISO/IEC 7064 MOD 37,36). */
const SHOWN = /^R-[0-9]{2}-[0-9]{5,7}-[0-9A-Z]$/;
const COMPACT = /^R([0-9]{2})([0-9]{5,7})([0-9A-Z])$/;

export type ReturnReferenceReading =
  | {
      readonly kind: "reference";
      readonly reference: ReturnReference;
      readonly year: number;
      readonly sequence: number;
    }
  | { readonly kind: "empty" }
  | { readonly kind: "not-a-reference" }
  | { readonly kind: "check-failed" };

/** Whether the text is a reference as shown, its check character verified. */
export function isReturnReference(text: string): text is ReturnReference {
  return SHOWN.test(text) && hasValidCheckCharacter(text.replaceAll("-", ""));
}

/** The reference of the so-manieth return of a year. Year 2000 to 2099, sequence 1 to 9,999,999; RangeError otherwise. */
export function makeReturnReference(year: number, sequence: number): ReturnReference {
  const isYear = Number.isInteger(year) && year >= 2000 && year <= 2099;
  const isSequence = Number.isInteger(sequence) && sequence >= 1 && sequence <= 9_999_999;
  if (!isYear || !isSequence) throw new RangeError(`no reference for number ${sequence} of year ${year}`);
  const twoDigitYear = String(year - 2000).padStart(2, "0");
  const number = String(sequence).padStart(5, "0");
  const shown = `R-${twoDigitYear}-${number}-${computeCheckCharacter(`R${twoDigitYear}${number}`)}`;
  if (!isReturnReference(shown)) throw new RangeError(`no reference for number ${sequence} of year ${year}`);
  return shown;
}

/** Reads a reference as people type, scan or paste it; nothing is corrected, because a wrong guess opens another return. */
export function readReturnReference(typed: string): ReturnReferenceReading {
  if (withoutGrouping(typed) === "") return { kind: "empty" };
  const compact = [withoutGrouping(typed), ...partsOfPaste(typed)].find((part) => COMPACT.test(part));
  const [, year, sequence, check] = COMPACT.exec(compact ?? "") ?? [];
  if (year === undefined || sequence === undefined || check === undefined) return { kind: "not-a-reference" };
  const reference = `R-${year}-${sequence}-${check}`;
  if (!isReturnReference(reference)) return { kind: "check-failed" };
  return { kind: "reference", reference, year: 2000 + Number(year), sequence: Number(sequence) };
}
