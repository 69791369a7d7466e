import type { DecidableRemedy } from "@/lib/returns/decision.schema";
import type { CostAssumption } from "@/lib/settlement/cost-assumption";
import type { ExchangeRate } from "@/lib/settlement/exchange";
import type { CalendarDate } from "@/lib/warranty/calendar";

/** What the maker paid the dealer for one return, all its settled lines together. */
export interface SettledReturn {
  readonly remedy: DecidableRemedy;
  readonly country: string;
  /** Whether a failure of the pack was confirmed. */
  readonly confirmed: boolean;
  readonly currency: string;
  readonly amountMinor: number;
}

/** All that the cost of a failure is worked out from. */
export interface CostBook {
  readonly reportingCurrency: string;
  readonly on: CalendarDate;
  readonly assumptions: readonly CostAssumption[];
  readonly rates: readonly ExchangeRate[];
  readonly settled: readonly SettledReturn[];
}
