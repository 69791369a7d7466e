import { z } from "zod";
import { storableText } from "@/lib/returns/storable-text";
import { whereSound } from "@/lib/returns/where-sound";
import { isCalendarDate } from "@/lib/warranty/calendar";
import { readAmount, typedAmount } from "./money";
import { currencyField } from "./money-codes";
import { supplierMoveNames } from "./supplier-claim";

const amountTyped = z.string().trim().regex(typedAmount, "Write the amount as 1234.50.");
const MOST_CHARACTERS = 500;
const why = storableText({
  least: 3,
  most: MOST_CHARACTERS,
  tooShort: "Write what it rests on: the letter, the report, the payment, or the reason.",
  tooLong: "This is longer than 500 characters.",
});

/** What opens a supplier's line: the return, the lot of the part that failed, what it cost, and the day of the contract. */
export const supplierClaimSchema = z
  .object({
    reference: z.string().trim().min(1, "Name the return.").max(40),
    lotCode: z.string().trim().min(1, "Name the lot of the part that failed.").max(40),
    currency: currencyField("Give the currency by its three letters, for example EUR."),
    amount: amountTyped,
    noticeBy: z
      .string()
      .trim()
      .refine((typed) => typed === "" || isCalendarDate(typed), "Give the day as year, month and day, or nothing."),
    why,
  })
  .refine(({ amount, currency }) => (readAmount(amount, currency) ?? 0) > 0, {
    path: ["amount"],
    when: whereSound("amount", "currency"),
    message: "Give an amount above nothing, with as many decimals as the currency has.",
  })
  .transform(({ amount, noticeBy, ...form }) => ({
    ...form,
    amountMinor: readAmount(amount, form.currency) ?? 0,
    noticeBy: isCalendarDate(noticeBy) ? noticeBy : null,
  }));
export type SupplierClaimForm = z.output<typeof supplierClaimSchema>;

/** A step of a supplier's line; the amount is read in the currency of the line. */
export const supplierStepSchema = z.object({
  claimId: z.uuid(),
  name: z.enum(supplierMoveNames),
  seenVersion: z.coerce.number().int().min(1),
  reason: z.string().trim().max(MOST_CHARACTERS, "This is longer than 500 characters.").default(""),
  amount: amountTyped.or(z.literal("")).default(""),
  share: z
    .string()
    .trim()
    .regex(/^([0-9]{1,3}([.,][0-9]{1,2})?)?$/, "Give the share in percent, as 50 or 33.3.")
    .default(""),
});
export type SupplierStep = z.output<typeof supplierStepSchema>;
