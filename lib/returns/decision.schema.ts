import { z } from "zod";
import { sayFault } from "@/lib/diagnosis/fault-words";
import { faults } from "@/lib/diagnosis/finding";
import { readAmount, typedAmount } from "@/lib/settlement/money";
import { isCurrency } from "@/lib/settlement/money-codes";
import { isCalendarDate } from "@/lib/warranty/calendar";
import { comesBackAnswers } from "./comes-back";
import { storableText } from "./storable-text";
import { whereSound } from "./where-sound";

/** What may be decided on a return. */
export const decidableRemedies = [
  "repair",
  "replace",
  "refund",
  "remote-fix",
  "return-as-is",
  "refuse",
  "redirect",
  "dispose",
  "isolate",
] as const;
export type DecidableRemedy = (typeof decidableRemedies)[number];

/** What may be decided of a pack that nobody has tested since it was asked for. Rule of this house, no source. */
const withoutTest: readonly DecidableRemedy[] = ["isolate", "dispose", "replace", "refund"];

/** What is offered to whoever decides, in the order of `decidableRemedies`; beside it, what the dealer says has solved it there. */
export function remediesOffered(isUntested: boolean, isSolvedThere = false): readonly DecidableRemedy[] {
  if (!isUntested) return decidableRemedies;
  return decidableRemedies.filter(
    (remedy) => withoutTest.includes(remedy) || (isSolvedThere && remedy === "remote-fix"),
  );
}

export const remedyLabels: Readonly<Record<DecidableRemedy, string>> = {
  repair: "Repair this pack",
  replace: "Replace it with another pack",
  refund: "Refund or credit",
  "remote-fix": "Put right at the dealer's, nothing is sent",
  "return-as-is": "Hand it back unchanged",
  refuse: "Refuse, with the reason",
  redirect: "Send on to the maker of another part",
  dispose: "Dispose of it safely",
  isolate: "Isolate it and decide later",
};

export function readDecidedRemedy(stored: string | null): DecidableRemedy | null {
  if (stored === null) return null;
  const remedy = decidableRemedies.find((known) => known === stored);
  if (remedy === undefined) throw new RangeError(`remedy: ${stored} is unknown`);
  return remedy;
}

/** "unknown" is an honest entry: forcing a choice of fault would poison every later count. */
export const confirmedFaults = [...faults, "unknown"] as const;
export type ConfirmedFault = (typeof confirmedFaults)[number];

/** The pack itself was found sound, so that another part, or what was done to it, is behind the complaint. */
export function liesOutside(confirmedFault: string): boolean {
  return confirmedFault === "outside-cause" || confirmedFault === "no-fault-found";
}

/** A fault that somebody found on the pack, or did not: it rests on hands and instruments, not on the readings alone. */
export function sayConfirmedFault(fault: string): string {
  if (fault === "unknown") return "Not known";
  return fault === "no-fault-found" ? "No fault was found" : sayFault(fault);
}

/**
 * Whether a decision leaves the customer without a remedy, whatever it is called: a refusal, a pack given back unchanged
 * although something was found or nobody knows what, one sent on to another maker although nothing outside it was found, and a
 * pack disposed of with nothing in its place. All of them name what a refusal names and need two people (common practice, no
 * source).
 */
export function deniesRemedy({
  remedy,
  confirmedFault,
}: {
  readonly remedy: string;
  readonly confirmedFault: string;
}): boolean {
  if (remedy === "redirect") return !liesOutside(confirmedFault);
  if (remedy === "return-as-is") return confirmedFault !== "no-fault-found";
  return remedy === "refuse" || remedy === "dispose";
}

const blankAsMissing = (text: string) => (text.trim() === "" ? undefined : text);
const optionalText = (most: number) =>
  z.string().max(most, `This is longer than ${most} characters.`).transform(blankAsMissing).optional();

/**
 * The money as people write it, 1234.50 or 1234,50, or already in the smallest unit as a whole number. A text stays
 * one until the currency is known, because only that says how many decimals it has. Undefined for an empty text.
 */
const amountField = z
  .string()
  .trim()
  .refine((typed) => typed === "" || typedAmount.test(typed), "Write the amount as 1234.50.")
  .transform(blankAsMissing)
  .or(z.int().min(1))
  .optional();

interface Refund {
  /** In the smallest unit of the currency. */
  readonly refundMinor?: number | undefined;
}

/** "12.50" of a currency without a smaller unit is no amount; nor is nothing at all. */
const isAmountOf = (amount: string | number | undefined, currency: string) =>
  typeof amount !== "string" || (readAmount(amount, currency) ?? 0) > 0;

/** The decision that is proposed for a return, one object for the bench form and the server. */
export const decisionSchema = z
  .object({
    remedy: z.enum(decidableRemedies, "Choose what is to be done."),
    confirmedFault: z.enum(confirmedFaults, "Choose the fault that was found; “unknown” is a fair answer."),
    reason: storableText({
      least: 10,
      most: 2000,
      tooShort: "Write why, in a sentence the dealer and a later reader will understand.",
      tooLong: "This is longer than 2000 characters. Keep to the reason.",
    }),
    /** Version of the return the decider had on screen; a decision on an older one is refused. */
    seenVersion: z.int("Reload the page: it does not know what it shows.").min(0),
    replacementRevisionCode: z.string().max(40, "No revision has so long a code.").transform(blankAsMissing).optional(),
    refundMinor: amountField,
    refundCurrency: z
      .string()
      .trim()
      .transform((code) => (code === "" ? undefined : code.toUpperCase()))
      .optional(),
    /** Given although it is not owed. */
    isGoodwill: z.boolean().optional(),
    /** What a refusal must say: the term relied on, the evidence, and the other explanations that were looked at. */
    refusalTerm: optionalText(500),
    refusalEvidence: optionalText(1000),
    refusalAlternatives: optionalText(1000),
    /** Why it is refused although the named photographs are missing and the pack was never here. */
    refusedUnseenBecause: optionalText(500),
    /** What of an earlier remedy of the same complaint comes back, and how; asked where the customer was given one. */
    comesBack: optionalText(500),
    comesBackWhat: z
      .enum(comesBackAnswers, "Choose whether anything comes back.")
      .or(z.literal("").transform(() => undefined))
      .optional(),
    /** Last day by which it is to be back. */
    comesBackBy: optionalText(10),
  })
  .refine((form) => form.comesBackWhat !== "comes-back" || isCalendarDate(form.comesBackBy ?? ""), {
    path: ["comesBackBy"],
    when: whereSound("comesBackWhat", "comesBackBy"),
    message: "Give the last day by which it has to be back.",
  })
  .refine((form) => (form.remedy === "replace") === (form.replacementRevisionCode !== undefined), {
    path: ["replacementRevisionCode"],
    when: whereSound("remedy", "replacementRevisionCode"),
    message: "A replacement needs the revision it is made with; any other remedy has none.",
  })
  .refine((form) => (form.remedy === "refund") === (form.refundMinor !== undefined), {
    path: ["refundMinor"],
    when: whereSound("remedy", "refundMinor"),
    message: "A refund needs its amount; any other remedy has none.",
  })
  .refine((form) => form.refundMinor === undefined || isCurrency(form.refundCurrency ?? ""), {
    path: ["refundCurrency"],
    when: whereSound("remedy", "refundMinor", "refundCurrency"),
    message: "Give the currency by its three letters, for example EUR.",
  })
  .refine((form) => !deniesRemedy(form) || !!(form.refusalTerm && form.refusalEvidence && form.refusalAlternatives), {
    path: ["refusalTerm"],
    when: whereSound("remedy", "confirmedFault", "refusalTerm", "refusalEvidence", "refusalAlternatives"),
    message:
      "What leaves the customer without a remedy names the term it relies on, the evidence, and which other explanations were looked at.",
  })
  .refine((form) => isAmountOf(form.refundMinor, form.refundCurrency ?? ""), {
    path: ["refundMinor"],
    when: whereSound("refundMinor", "refundCurrency"),
    message: "Give an amount above nothing, with as many decimals as the currency has: yen, for example, have none.",
  })
  .transform(({ refundMinor, ...form }): typeof form & Refund => {
    const amount = typeof refundMinor === "string" ? readAmount(refundMinor, form.refundCurrency ?? "") : refundMinor;
    const { comesBackBy, ...rest } = form;
    const due = form.comesBackWhat === "comes-back" && comesBackBy !== undefined ? { comesBackBy } : {};
    return { ...rest, ...due, ...(amount === undefined || amount === null ? {} : { refundMinor: amount }) };
  });

export type DecisionInput = z.input<typeof decisionSchema>;
export type Decision = z.output<typeof decisionSchema>;
