import { type HolidayRule, readHolidayRule } from "./holiday-rules";
import { monthName, sayDate, sayDays } from "./say-date";

const weekdays = ["Sunday", "Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday"] as const;
const places: Readonly<Record<number, string>> = { 1: "first", 2: "second", 3: "third", 4: "fourth", [-1]: "last" };

/** When a holiday falls, for a reader: "25 December", "1 day after Easter Sunday", "third Monday of January". */
function sayHolidayRule(rule: HolidayRule): string {
  switch (rule.kind) {
    case "yearly":
      return `${rule.day} ${monthName(rule.month)}`;
    case "easter":
      return rule.days === 0
        ? "Easter Sunday"
        : `${sayDays(Math.abs(rule.days))} ${rule.days < 0 ? "before" : "after"} Easter Sunday`;
    case "weekday":
      return `${places[rule.count]} ${weekdays[rule.weekday]} of ${monthName(rule.month)}`;
    case "once":
      return sayDate(rule.on);
    default: {
      const never: never = rule;
      return never;
    }
  }
}

/** The same of a rule as it is written; what is no rule is said as it stands. */
export function sayWrittenHolidayRule(written: string): string {
  const rule = readHolidayRule(written);
  return rule === null ? written : sayHolidayRule(rule);
}
