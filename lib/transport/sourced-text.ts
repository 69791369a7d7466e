import { z } from "zod";

/** Where a sentence of law or practice comes from. It travels with the sentence to the screen and onto paper. */
export const sourceMarkSchema = z.discriminatedUnion("kind", [
  z.object({ kind: z.literal("read"), where: z.string().min(3) }),
  /** Written down from memory: whoever owns the rules must compare it with the text named. */
  z.object({ kind: z.literal("from-memory"), compareWith: z.string().min(3) }),
  z.object({ kind: z.literal("practice") }),
  /** Chosen by this house, stricter than or beside any law. */
  z.object({ kind: z.literal("house") }),
]);
export type SourceMark = z.output<typeof sourceMarkSchema>;

export const sourcedTextSchema = z.object({ text: z.string().min(3), mark: sourceMarkSchema });
export type SourcedText = z.output<typeof sourcedTextSchema>;

export function readIn(where: string, text: string): SourcedText {
  return { text, mark: { kind: "read", where } };
}

export function fromMemory(compareWith: string, text: string): SourcedText {
  return { text, mark: { kind: "from-memory", compareWith } };
}

export function practice(text: string): SourcedText {
  return { text, mark: { kind: "practice" } };
}

export function houseRule(text: string): SourcedText {
  return { text, mark: { kind: "house" } };
}

/** The mark in words, short enough to stand behind its sentence. */
export function sayMark(mark: SourceMark): string {
  switch (mark.kind) {
    case "read":
      return `read in ${mark.where}`;
    case "from-memory":
      return `from memory: verify in ${mark.compareWith}`;
    case "practice":
      return "common practice, no source";
    case "house":
      return "rule of this house";
    default: {
      const never: never = mark;
      return never;
    }
  }
}
