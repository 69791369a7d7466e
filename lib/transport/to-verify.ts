import { heightOf, packageMarkSchema } from "./package-mark";
import { type SourceMark, sayMark, sourcedTextSchema } from "./sourced-text";

/** One sentence that a licensed eye has to look at before anybody relies on it. */
export interface ToVerify {
  /** What the sentence stands in, in words. */
  readonly table: string;
  readonly version: string;
  readonly sentence: string;
  /** What it is to be compared with, and by whom. */
  readonly mark: string;
}

/**
 * Every sentence in a table that a licensed eye has to look at, wherever in it the sentence lies, in the order of the table: those
 * written down from memory, and those read somewhere, because what was read may be an older edition or tell of the text at second hand.
 */
export function toVerifyIn(table: string, version: string, value: unknown): ToVerify[] {
  if (value === null || typeof value !== "object") return [];
  const sourced = sourcedTextSchema.safeParse(value);
  if (sourced.success) {
    const packageMark = packageMarkSchema.safeParse(value);
    const height = packageMark.success ? heightOf(packageMark.data) : null;
    return [sourced.data, ...(height === null ? [] : [height])].flatMap(({ text, mark }) => {
      const toDo = whatIsToDo(mark);
      return toDo === null ? [] : [{ table, version, sentence: text, mark: toDo }];
    });
  }
  return Object.values(value).flatMap((inside) => toVerifyIn(table, version, inside));
}

function whatIsToDo(mark: SourceMark): string | null {
  switch (mark.kind) {
    case "from-memory":
      return sayMark(mark);
    case "read":
      return `${sayMark(mark)}: compare with the text in force`;
    case "practice":
    case "house":
      return null;
    default: {
      const never: never = mark;
      return never;
    }
  }
}
