import { measuredSignals } from "@/lib/reliability/signal-measurements";
import { signalRates } from "@/tests/support/signal-histories";

/**
 * How often does any of twelve groups that fail alike ever give a false signal, and how soon is a doubled one found, with lags and
 * baseline estimated? `npm run -s bench -- signal-rates [histories] [first seed]`; without them both runs that the page tells of.
 * `agree` says whether the page's figures still come out so; null for a run of which it tells nothing.
 */
export async function* rows([histories, firstSeed = "1"]: readonly string[]): AsyncIterable<object> {
  const runs =
    histories === undefined ? measuredSignals : [{ fleets: Number(histories), firstSeed: Number(firstSeed) }];
  for (const run of runs) {
    const rates = signalRates(run.firstSeed, run.fleets);
    const told = measuredSignals.find((one) => one.firstSeed === run.firstSeed && one.fleets === run.fleets);
    const agree =
      told === undefined
        ? null
        : told.withFalseSignal === rates.falseHistories &&
          told.badFound === rates.found &&
          told.medianDays === rates.medianDays;
    yield { ...run, ...rates, agree };
  }
}
