/** A move of the history, as far as it says when a round of tests began. */
export interface DatedMove {
  readonly move: string | null;
  readonly at: Date;
}

export interface TestRound {
  /** When the pack last came to the bench; null where it never did. What was measured before counts no more. */
  readonly testsBeganAt: Date | null;
  /** When the return was last opened again after a decision; null where it never was. */
  readonly reviewedAnewAt: Date | null;
}

const opensAnew: readonly (string | null)[] = ["object", "reopen", "reopen-solved"];

export function testRound(moves: readonly DatedMove[]): TestRound {
  const lastOf = (names: readonly (string | null)[]) =>
    moves.reduce<Date | null>(
      (last, { move, at }) => (names.includes(move) && (last === null || at >= last) ? at : last),
      null,
    );
  return { testsBeganAt: lastOf(["start-test"]), reviewedAnewAt: lastOf(opensAnew) };
}
