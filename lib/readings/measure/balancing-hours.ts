/**
 * h a balancer needs without a break for an offset of one group: capacity · offset / balance current. Capacity in Ah, offset
 * in % of charge, current in A. RangeError for a current that is not above zero.
 */
export function balancingHours(capacityAh: number, offsetPercent: number, balanceCurrentA: number): number {
  if (!(balanceCurrentA > 0)) throw new RangeError(`balance current: ${balanceCurrentA} A is not above zero`);
  return (capacityAh * offsetPercent) / 100 / balanceCurrentA;
}
