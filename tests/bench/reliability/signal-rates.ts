import { measuredSignals } from "@/lib/reliability/signal-measurements";
import { signalRates } from "@/tests/support/signal-histories";

/**
 * How often does any of twelve groups that fail alike ever give a false signal, and how soon is a doubled one found, with lags and
 * baseline estimated? `npm run -s bench -- signal-rates [histories] [first seed]`; without them both halves that the page tells of,
 * and last whether its figures still come out so.
 */
export async function* rows([histories, firstSeed = "1"]: readonly string[]): AsyncIterable<object> {
  if (histories !== undefined) {
    yield signalRates(Number(firstSeed), Number(histories));
    return;
  }
  let [falseHistories, found, mediansAgree] = [0, 0, true];
  for (const half of measuredSignals.halves) {
    const rates = signalRates(half.firstSeed, half.fleets);
    falseHistories += rates.falseHistories;
    found += rates.found;
    mediansAgree &&= rates.medianDays === half.medianDays;
    yield { firstSeed: half.firstSeed, ...rates };
  }
  const { withFalseSignal, badFound } = measuredSignals;
  yield { agree: mediansAgree && falseHistories === withFalseSignal && found === badFound };
}
