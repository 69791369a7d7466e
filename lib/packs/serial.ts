import { computeCheckCharacter, hasValidCheckCharacter } from "./iso-7064";
import { likelySerials } from "./likely-serials";
import { partsOfPaste, withoutGrouping } from "./typed-code";

declare const serialBrand: unique symbol;

/** A pack's serial in canonical form, its check character verified: eleven characters without grouping. */
export type Serial = string & { readonly [serialBrand]: true };

export const SERIAL_LENGTH_CHARACTERS = 11;

/** Two letters for the model, two digits each for year and ISO week of build, four for the sequence, one check character. */
const PATTERN = /^[A-Z]{2}[0-9]{2}(0[1-9]|[1-4][0-9]|5[0-3])[0-9]{4}[0-9A-Z]$/;

export type SerialReading =
  | { readonly kind: "serial"; readonly serial: Serial }
  | { readonly kind: "empty" }
  | { readonly kind: "wrong-length"; readonly characters: number }
  /** Positions count from 1 and leave spaces, hyphens and dots out. */
  | { readonly kind: "foreign-character"; readonly character: string; readonly position: number }
  /** Right length, but the check character or the pattern is wrong. Candidates are offered, never taken. */
  | { readonly kind: "check-failed"; readonly entered: string; readonly likely: readonly Serial[] };

export type UnreadSerial = Exclude<SerialReading, { kind: "serial" }>;

/** Whether the text is a serial in canonical form with the right pattern and check character. */
export function isSerial(text: string): text is Serial {
  return PATTERN.test(text) && hasValidCheckCharacter(text);
}

/**
 * Reads a serial as people give it: in either case, with spaces, hyphens or dots, full-width, or within a pasted address or
 * label text, as long as exactly one serial stands in it. A look-alike is never exchanged silently (O stays O): where
 * the check fails, serials one likely slip away are named for the person to choose from.
 */
export function readSerial(typed: string): SerialReading {
  const whole = withoutGrouping(typed);
  if (isSerial(whole)) return { kind: "serial", serial: whole };
  const parts = partsOfPaste(typed);
  const found = new Set(parts.filter(isSerial));
  const [only] = found;
  if (only !== undefined && found.size === 1) return { kind: "serial", serial: only };

  const isAddress = /:\/\/|=/.test(typed);
  return explain(isAddress ? (parts[0] ?? "") : whole);
}

function explain(entered: string): UnreadSerial {
  const characters = [...entered];
  if (characters.length === 0) return { kind: "empty" };
  const foreign = characters.findIndex((character) => !/^[0-9A-Z]$/.test(character));
  const character = characters[foreign];
  if (character !== undefined) return { kind: "foreign-character", character, position: foreign + 1 };
  if (characters.length !== SERIAL_LENGTH_CHARACTERS) return { kind: "wrong-length", characters: characters.length };
  return { kind: "check-failed", entered, likely: likelySerials(entered).filter(isSerial) };
}

/** A serial as printed and shown: TR-2417-0392-7. */
export function groupSerial(serial: Serial): string {
  return [serial.slice(0, 2), serial.slice(2, 6), serial.slice(6, 10), serial.slice(10)].join("-");
}

export interface SerialParts {
  /** Two letters A-Z. */
  readonly model: string;
  /** 2000 to 2099. */
  readonly buildYear: number;
  /** ISO week, 1 to 53. */
  readonly buildWeek: number;
  /** 0 to 9999 within model and week. */
  readonly sequence: number;
}

/** Makes a serial from its parts. Throws RangeError where a part is outside its range. */
export function makeSerial(parts: SerialParts): Serial {
  const { model, buildYear, buildWeek, sequence } = parts;
  const two = (number: number) => String(number).padStart(2, "0");
  const payload = `${model}${two(buildYear - 2000)}${two(buildWeek)}${String(sequence).padStart(4, "0")}`;
  const text = /^[0-9A-Z]+$/.test(payload) ? payload + computeCheckCharacter(payload) : payload;
  if (!isSerial(text)) throw new RangeError(`no serial can be made of ${JSON.stringify(parts)}`);
  return text;
}

/** The parts a serial is made of; the week of build is what sale dates are checked against first. */
export function serialParts(serial: Serial): SerialParts {
  return {
    model: serial.slice(0, 2),
    buildYear: 2000 + Number(serial.slice(2, 4)),
    buildWeek: Number(serial.slice(4, 6)),
    sequence: Number(serial.slice(6, 10)),
  };
}
