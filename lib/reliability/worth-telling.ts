/**
 * A number of failures whose upper limit is above so many times what is expected, and so many more, says nothing to plan by.
 * Engineering default, no authority.
 */
const WIDEST = { times: 25, more: 5 };

/** Whether what is foretold says enough to plan by. */
export function isWorthTelling({ expected, upper }: { readonly expected: number; readonly upper: number }): boolean {
  return upper <= WIDEST.times * expected + WIDEST.more;
}
