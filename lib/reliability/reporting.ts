/** Which share of what was told is known so many days after; from the longest lag on all is. */
export interface Reporting {
  readonly shareKnown: (lagDays: number) => number;
  readonly longestLagDays: number;
  /** Of one group, where groups are confirmed at different speeds; missing where one delay stands for all. */
  readonly ofGroup?: (group: string) => Reporting;
}
