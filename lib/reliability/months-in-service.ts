/** Mean length of a month in days: a year of 365.25 days divided by twelve. Julian year, by definition. */
export const DAYS_PER_MONTH = 365.25 / 12;

/** Ages at which revisions are set side by side, in months since first use. Common practice, no source. */
export const MILESTONE_MONTHS = [3, 6, 12, 24] as const;

export function daysAtMonths(months: number): number {
  return months * DAYS_PER_MONTH;
}
