import { returnStatusWords } from "./return-status";

interface RecordedMove {
  readonly dataVersion: number;
  readonly to: string;
  readonly actorName: string;
}

/**
 * What happened to a return, or to what `say` has the words of, after somebody opened it, oldest first: "Being looked at, by
 * Samira Oskendal". Empty where nothing did.
 */
export function changedSince(
  moves: readonly RecordedMove[],
  seenVersion: number,
  say: (state: string) => string = returnStatusWords,
): string[] {
  return moves
    .filter(({ dataVersion }) => dataVersion > seenVersion)
    .map(({ to, actorName }) => `${say(to)}, by ${actorName}`);
}
