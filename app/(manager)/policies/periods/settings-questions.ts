import type { FormQuestion } from "@/app/_components/question-form";
import type { ReturnSettings } from "@/lib/returns/return-settings.schema";
import { returnStatusWords } from "@/lib/returns/return-status";
import { dueFieldOf, statusesWithDueDays } from "@/lib/returns/settings-proposal.schema";
import { dayLimitOf, lineLimitOf } from "@/lib/settlement/line-limit";
import { plainAmount } from "@/lib/settlement/money";

/** The questions of a proposal, filled in with what is in force today. */
export function settingsQuestions(inForce: ReturnSettings | null): FormQuestion[] {
  const number = (name: Exclude<keyof ReturnSettings, "dueDays">, label: string): FormQuestion => ({
    name,
    label,
    kind: "number",
    value: inForce === null ? "" : String(inForce[name]),
  });
  return [
    { name: "version", label: "Name of the version", hint: "Short, for example returns-2027-01." },
    { name: "validFrom", label: "First day", hint: "Today or later.", kind: "date" },
    ...statusesWithDueDays.map((status): FormQuestion => {
      const allowed = inForce?.dueDays[status];
      return {
        name: dueFieldOf(status),
        label: `Days while “${returnStatusWords(status)}”`,
        kind: "number",
        value: allowed === undefined ? "" : String(allowed),
      };
    }),
    number("remindEveryDays", "Days between reminders of a question"),
    number("remindersBeforeLapse", "Reminders before it may lapse"),
    number("objectionDays", "Days in which the dealer may object"),
    number("solvedReopenDays", "Days in which what was solved from a distance may be reopened"),
    number("closeAfterDays", "Days from the hand-over to the closing, at least"),
    number("draftKeptDays", "Days an unfinished return is kept"),
    number("contactKeptDays", "Days a customer's contact is kept after its return ended"),
    number("expiryReminderDays", "Days before the permission to send ends when the dealer is told"),
    number("callAgainMinutes", "Minutes until the safety officer is called again"),
    number("refundDays", "Days within which a refund is paid after it was agreed"),
    {
      name: "refundLimitMinor",
      label: "Refund above which a second person approves",
      hint: "As 500.00.",
      value: inForce === null ? "" : plainAmount(inForce.refundLimitMinor, inForce.refundLimitCurrency),
    },
    {
      name: "lineLimitMinor",
      label: "Line of money above which whoever checked it does not approve it",
      hint: "As 500.00, in the same currency; also of what one person passes of one return in all. A line in another currency counts as above it.",
      value: inForce === null ? "" : plainAmount(lineLimitOf(inForce), inForce.refundLimitCurrency),
    },
    {
      name: "dayLimitMinor",
      label: "Money that one person passes alone in a day at the most",
      hint: "Over all returns, in the 24 hours before, in the same currency.",
      value: inForce === null ? "" : plainAmount(dayLimitOf(inForce), inForce.refundLimitCurrency),
    },
    {
      name: "refundLimitCurrency",
      label: "Currency of the three",
      hint: "Three letters.",
      value: inForce?.refundLimitCurrency ?? "",
    },
    { name: "why", label: "Why", hint: "The approver has only this.", kind: "long" },
  ];
}
