import { dayLimitOf, lineLimitOf } from "@/lib/settlement/line-limit";
import { sayMoney } from "@/lib/settlement/money";
import type { ReturnSettings } from "./return-settings.schema";
import { returnStatusWords } from "./return-status";
import { statusesWithDueDays } from "./settings-proposal.schema";

interface Line {
  readonly what: string;
  readonly value: string;
}

const days = (count: number) => `${count} ${count === 1 ? "day" : "days"}`;

/** Every period and limit of a version, as a person reads it. */
export function settingsInWords(settings: ReturnSettings): Line[] {
  const { dueDays } = settings;
  return [
    ...statusesWithDueDays.map((status) => {
      const allowed = dueDays[status];
      return {
        what: `Due while “${returnStatusWords(status)}”`,
        value: allowed === undefined ? "no day is set" : days(allowed),
      };
    }),
    { what: "A question is repeated every", value: days(settings.remindEveryDays) },
    { what: "Reminders before a question lapses", value: String(settings.remindersBeforeLapse) },
    { what: "The dealer may object for", value: days(settings.objectionDays) },
    { what: "What was solved from a distance may be reopened for", value: days(settings.solvedReopenDays) },
    { what: "A return is closed after the hand-over, at the earliest in", value: days(settings.closeAfterDays) },
    { what: "An unfinished return is kept for", value: days(settings.draftKeptDays) },
    { what: "A customer's contact is erased after its return ended in", value: days(settings.contactKeptDays) },
    { what: "Told before the permission to send ends", value: days(settings.expiryReminderDays) },
    { what: "The safety officer is called again after", value: `${settings.callAgainMinutes} minutes` },
    { what: "A refund is paid after it was agreed within", value: days(settings.refundDays) },
    {
      what: "What one person passes alone in a day, over all returns, at the most",
      value: sayMoney(dayLimitOf(settings), settings.refundLimitCurrency),
    },
    {
      what: "A line of money above this is checked by one and approved by another",
      value: sayMoney(lineLimitOf(settings), settings.refundLimitCurrency),
    },
    {
      what: "A refund above this needs a second person",
      value: sayMoney(settings.refundLimitMinor, settings.refundLimitCurrency),
    },
  ];
}

/** What a version changes against another; empty where nothing. */
export function settingsChanged(before: ReturnSettings, after: ReturnSettings): string[] {
  const was = new Map(settingsInWords(before).map(({ what, value }) => [what, value]));
  return settingsInWords(after)
    .filter(({ what, value }) => was.get(what) !== value)
    .map(({ what, value }) => `${what}: ${value} (was ${was.get(what) ?? "not set"})`);
}
