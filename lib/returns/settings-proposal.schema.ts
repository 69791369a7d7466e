import { z } from "zod";
import { whyProposed } from "@/lib/access/why-proposed.schema";
import { readAmount, typedAmount } from "@/lib/settlement/money";
import { currencyField } from "@/lib/settlement/money-codes";
import { dateText } from "@/lib/warranty/date-text";
import { type ReturnSettings, returnSettingsSchema } from "./return-settings.schema";
import { endedStatuses, type ReturnStatus, returnStatuses } from "./return-status";

/** Statuses in which somebody has the turn, and by which a day can be set. */
export const statusesWithDueDays: readonly ReturnStatus[] = returnStatuses.filter(
  (status) => status !== "draft" && !endedStatuses.some((ended) => ended === status),
);

/** Name of the form's field for the due days of a status. */
export function dueFieldOf(status: ReturnStatus): string {
  return `due-${status}`;
}

const wholeNumber = z
  .string()
  .trim()
  .regex(/^[0-9]{1,9}$/, "A whole number.")
  .transform(Number);

const headSchema = z.object({
  version: z
    .string()
    .trim()
    .regex(/^[0-9A-Za-z][0-9A-Za-z .-]{1,38}$/, "A short name such as returns-2027-01."),
  validFrom: dateText("The first day"),
  why: whyProposed,
});

const FEWER_DECIMALS = "This currency has fewer decimals: write the amount as it is paid.";
const limitTyped = z.string().trim().regex(typedAmount, "Write the amount as 500.00.");

const numbersSchema = z
  .object({
    remindersBeforeLapse: wholeNumber,
    remindEveryDays: wholeNumber,
    objectionDays: wholeNumber,
    solvedReopenDays: wholeNumber,
    closeAfterDays: wholeNumber,
    draftKeptDays: wholeNumber,
    contactKeptDays: wholeNumber,
    expiryReminderDays: wholeNumber,
    callAgainMinutes: wholeNumber,
    refundLimitMinor: limitTyped,
    lineLimitMinor: limitTyped,
    dayLimitMinor: limitTyped,
    refundDays: wholeNumber,
    refundLimitCurrency: currencyField("Give the currency by its three letters, for example EUR."),
  })
  .transform((form, context) => {
    const refundLimitMinor = readAmount(form.refundLimitMinor, form.refundLimitCurrency);
    const lineLimitMinor = readAmount(form.lineLimitMinor, form.refundLimitCurrency);
    const dayLimitMinor = readAmount(form.dayLimitMinor, form.refundLimitCurrency);
    if (refundLimitMinor !== null && lineLimitMinor !== null && dayLimitMinor !== null)
      return { ...form, refundLimitMinor, lineLimitMinor, dayLimitMinor };
    for (const [field, read] of Object.entries({ refundLimitMinor, lineLimitMinor, dayLimitMinor }))
      if (read === null) context.addIssue({ code: "custom", path: [field], message: FEWER_DECIMALS });
    return z.NEVER;
  });

export type SettingsProposal = z.output<typeof headSchema> & { readonly values: ReturnSettings };

type Reading =
  | { readonly kind: "proposal"; readonly proposal: SettingsProposal }
  | { readonly kind: "problems"; readonly problems: readonly { readonly field: string; readonly sentence: string }[] };

/** Reads a proposed version as the form sends it: texts. An empty number of days leaves that status without a due day. */
export function readSettingsProposal(entries: Readonly<Record<string, unknown>>): Reading {
  const head = headSchema.safeParse(entries);
  const numbers = numbersSchema.safeParse(entries);
  const due = statusesWithDueDays.map((status) => {
    const field = dueFieldOf(status);
    const typed = String(entries[field] ?? "").trim();
    return { status, field, typed, read: typed === "" ? null : wholeNumber.safeParse(typed) };
  });
  const problems = [head, numbers].flatMap(({ error }) =>
    (error?.issues ?? []).map(({ path, message }) => ({ field: String(path[0] ?? "version"), sentence: message })),
  );
  for (const { field, read } of due) if (read?.success === false) problems.push({ field, sentence: "A whole number." });
  if (!head.success || !numbers.success || problems.length > 0) return { kind: "problems", problems };
  const dueDays = Object.fromEntries(
    due.flatMap(({ status, read }) => (read?.success === true ? [[status, read.data]] : [])),
  );
  const values = returnSettingsSchema.safeParse({ ...numbers.data, dueDays });
  if (values.success) return { kind: "proposal", proposal: { ...head.data, values: values.data } };
  return {
    kind: "problems",
    problems: values.error.issues.map(({ path, message }) => ({
      field: path[0] === "dueDays" ? `due-${String(path[1])}` : String(path[0] ?? "version"),
      sentence: message,
    })),
  };
}
