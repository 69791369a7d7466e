import { z } from "zod";
import { markOfHeight, type PackageMark } from "./package-mark";
import { type SourcedText, type SourceMark, sayMark } from "./sourced-text";

/** A sentence with its mark behind it in square brackets: what the page shows is what a proposal is written in. */
export function writeSourced({ text, mark }: SourcedText): string {
  return `${text} [${sayMark(mark)}]`;
}

export type SourcedReading =
  | { readonly kind: "sentence"; readonly sentence: SourcedText }
  | { readonly kind: "unmarked" };

const READ = "read in ";
const FROM_MEMORY = "from memory: verify in ";

/** Reads one line back. A sentence without a mark at its end is no sentence of the rules. */
export function readSourced(line: string): SourcedReading {
  const found = /^(?<text>.{3,}?)\s*\[(?<mark>[^[\]]+)\]$/s.exec(line.trim())?.groups;
  const mark = found?.mark === undefined ? null : readMark(found.mark.trim());
  if (found?.text === undefined || mark === null) return { kind: "unmarked" };
  return { kind: "sentence", sentence: { text: found.text.trim(), mark } };
}

/** A mark of a package: the height of its letters in round brackets, with where that comes from, before the mark of the words. */
export function writePackageMark(packageMark: PackageMark): string {
  const { text, mark, letterHeightMm } = packageMark;
  const height = `(letters at least ${letterHeightMm} mm [${sayMark(markOfHeight(packageMark))}])`;
  return writeSourced({ text: letterHeightMm === null ? text : `${text} ${height}`, mark });
}

export type PackageMarkReading =
  | { readonly kind: "package-mark"; readonly packageMark: PackageMark }
  | { readonly kind: "height-unmarked" };

/** Reads the height back out of a sentence whose own mark was read already. */
export function readPackageMark({ text, mark }: SourcedText): PackageMarkReading {
  const found = /^(?<words>.+) \(letters at least (?<mm>[0-9.]+) mm(?:\s*\[(?<mark>[^[\]]+)\])?\)$/.exec(text)?.groups;
  if (found?.words === undefined) return { kind: "package-mark", packageMark: { text, mark, letterHeightMm: null } };
  const heightMark = found.mark === undefined ? null : readMark(found.mark.trim());
  if (heightMark === null) return { kind: "height-unmarked" };
  const letterHeightMm = Number(found.mm);
  return { kind: "package-mark", packageMark: { text: found.words, mark, letterHeightMm, heightMark } };
}

export const HOW_TO_MARK_HEIGHT =
  "Say where the height of the letters comes from, for example (letters at least 12 mm [from memory: verify in …]).";

function readMark(said: string): SourceMark | null {
  if (said.startsWith(READ)) return withPlace(said.slice(READ.length), (where) => ({ kind: "read", where }));
  if (said.startsWith(FROM_MEMORY)) {
    return withPlace(said.slice(FROM_MEMORY.length), (compareWith) => ({ kind: "from-memory", compareWith }));
  }
  const plain = [{ kind: "practice" }, { kind: "house" }] as const satisfies readonly SourceMark[];
  return plain.find((mark) => sayMark(mark) === said) ?? null;
}

const placeSchema = z.string().trim().min(3);

function withPlace(typed: string, mark: (place: string) => SourceMark): SourceMark | null {
  const place = placeSchema.safeParse(typed);
  return place.success ? mark(place.data) : null;
}

export const HOW_TO_MARK =
  "End it with where it comes from in square brackets: [read in …], [from memory: verify in …], [common practice, no source] or [rule of this house].";
