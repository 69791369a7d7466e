import { z } from "zod";

interface TextLimits {
  /** Characters that must remain when spaces around the text are left out. */
  readonly least: number;
  readonly most: number;
  readonly tooShort: string;
  readonly tooLong: string;
}

/**
 * Free text kept exactly as written: it is measured without the spaces around it, never changed. PostgreSQL can store
 * neither a zero character nor half of a character pair, so those are refused here with a sentence rather than there
 * with a fault.
 */
export function storableText({ least, most, tooShort, tooLong }: TextLimits) {
  return z
    .string(tooShort)
    .max(most, tooLong)
    .refine((text) => text.trim().length >= least, { message: tooShort })
    .refine((text) => !/[\0\p{Surrogate}]/u.test(text), {
      message: "This holds a broken character, probably from pasting. Delete it and write it again.",
    });
}
