import { signalRates } from "@/tests/support/signal-histories";

/**
 * How often does any of twelve groups that fail alike ever give a false signal, and how soon is a doubled one found, with lags and
 * baseline estimated? `npm run -s bench -- signal-rates [histories] [first seed]`.
 */
export async function* rows([histories = "120", firstSeed = "1"]: readonly string[]): AsyncIterable<object> {
  yield signalRates(Number(firstSeed), Number(histories));
}
