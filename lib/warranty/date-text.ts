import { z } from "zod";
import { isCalendarDate } from "./calendar";

/** A field of stored or given data that must hold an existing day; the message names the field. */
export function dateText(field: string) {
  return z.string(`${field}: a day written YYYY-MM-DD.`).transform((text, context) => {
    if (isCalendarDate(text)) return text;
    context.issues.push({
      code: "custom",
      message: `${field}: ${text.slice(0, 40)} is no day written YYYY-MM-DD.`,
      input: text,
    });
    return z.NEVER;
  });
}
