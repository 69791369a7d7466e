import { heightOf, packageMarkSchema } from "./package-mark";
import { sayMark, sourcedTextSchema } from "./sourced-text";

/** One sentence that a licensed eye has to look at before anybody relies on it. */
export interface ToVerify {
  /** What the sentence stands in, in words. */
  readonly table: string;
  readonly version: string;
  readonly sentence: string;
  /** What it is to be compared with, and by whom. */
  readonly mark: string;
}

/** Every sentence in a table that was written down from memory, wherever in it the sentence lies, in the order of the table. */
export function unverifiedIn(table: string, version: string, value: unknown): ToVerify[] {
  if (value === null || typeof value !== "object") return [];
  const sourced = sourcedTextSchema.safeParse(value);
  if (sourced.success) {
    const packageMark = packageMarkSchema.safeParse(value);
    const height = packageMark.success ? heightOf(packageMark.data) : null;
    return [sourced.data, ...(height === null ? [] : [height])].flatMap(({ text, mark }) =>
      mark.kind === "from-memory" ? [{ table, version, sentence: text, mark: sayMark(mark) }] : [],
    );
  }
  return Object.values(value).flatMap((inside) => unverifiedIn(table, version, inside));
}
