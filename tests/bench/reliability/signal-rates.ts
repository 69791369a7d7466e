import { isDeepStrictEqual } from "node:util";
import { SIGNAL_RULES_VERSION } from "@/lib/reliability/rule-version";
import { measuredSignals } from "@/lib/reliability/signal-measurements";
import { signalRates } from "@/tests/support/signal-histories";

/**
 * How often does any of twelve groups that fail alike ever give a false signal, and how soon is a doubled one found, with lags and
 * baseline estimated? `npm run -s bench -- signal-rates [histories] [first seed]`; without them those that the page tells of,
 * and whether its figures still come out so.
 */
export async function* rows([histories, firstSeed = "1"]: readonly string[]): AsyncIterable<object> {
  if (histories !== undefined) {
    yield { rules: SIGNAL_RULES_VERSION, ...signalRates(Number(firstSeed), Number(histories)) };
    return;
  }
  const { rules: toldUnder, firstSeed: from, ...measured } = measuredSignals;
  const rates = signalRates(from, measured.fleets);
  yield { rules: SIGNAL_RULES_VERSION, toldUnder, ...rates, agree: isDeepStrictEqual(rates, measured) };
}
