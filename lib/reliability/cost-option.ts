import { type ForetoldCost, type ForetoldCount, foretoldCostOfAll } from "./cost-forecast";

/** Cost of one failure as somebody gives it on the command line, in units of a currency. */
export interface GivenCost {
  readonly mean: number;
  /** Standard deviation from one failure to another. */
  readonly spread: number;
  readonly currency: string;
  /** Standard error of the mean; 0 where it is taken as known. */
  readonly error: number;
}

/** Reads MEAN,SD,CURRENCY or MEAN,SD,CURRENCY,ERROR, decimals with a point. Null where it makes no sense. */
export function readCostOption(text: string): GivenCost | null {
  const [mean, spread, currency = "", error = "0", ...others] = text.split(",").map((part) => part.trim());
  const [meanNumber, spreadNumber, errorNumber] = [mean, spread, error].map(amount);
  if (others.length > 0 || !/^[A-Z]{3}$/.test(currency)) return null;
  if (meanNumber == null || spreadNumber == null || errorNumber == null || meanNumber === 0) return null;
  return { mean: meanNumber, spread: spreadNumber, currency, error: errorNumber };
}

function amount(text: string | undefined): number | null {
  return text !== undefined && /^[0-9]{1,12}([.][0-9]+)?$/.test(text) ? Number(text) : null;
}

/** What so many failures will cost at a given cost of one; in units of its currency. */
export function givenCostForecast(
  count: ForetoldCount,
  { mean, spread, currency, error }: GivenCost,
): ForetoldCost | null {
  const amounts = [{ share: 1, mean, spread }];
  return foretoldCostOfAll([{ count, cost: { currency, mean, relativeError: error / mean, amounts } }]);
}
