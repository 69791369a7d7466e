import { z } from "zod";
import { type SourcedText, type SourceMark, sourcedTextSchema, sourceMarkSchema } from "./sourced-text";

/**
 * A mark exactly as it must stand on the package. How high its letters are is another sentence, often of another source, so it
 * has a mark of its own; it may be missing only in versions written before it could be said.
 */
export const packageMarkSchema = sourcedTextSchema.extend({
  letterHeightMm: z.number().positive().nullable(),
  heightMark: sourceMarkSchema.optional(),
});
export type PackageMark = z.output<typeof packageMarkSchema>;

/**
 * Where the height of the letters comes from. Where a version does not say, nobody has compared it: that the words were read
 * somewhere says nothing of their height.
 */
export function markOfHeight({ mark, heightMark }: Pick<PackageMark, "mark" | "heightMark">): SourceMark {
  if (heightMark !== undefined) return heightMark;
  return mark.kind === "from-memory" ? mark : { kind: "from-memory", compareWith: "the rule that asks for this mark" };
}

/** The height of the letters as a sentence of its own; null where the rules ask for none. */
export function heightOf(packageMark: PackageMark): SourcedText | null {
  const { text, letterHeightMm } = packageMark;
  if (letterHeightMm === null) return null;
  return { text: `${text}: letters at least ${letterHeightMm} mm`, mark: markOfHeight(packageMark) };
}

/** The marks of a package as sentences, each followed by the height of its letters: what a list shows. */
export function markSentences(marks: readonly PackageMark[]): SourcedText[] {
  return marks.flatMap((one) => {
    const height = heightOf(one);
    return height === null ? [one] : [one, height];
  });
}
