/**
 * Does two pieces of work that do not need each other and gives the answers of both. One thread does them in turn; two threads that
 * judge the same log do one each and hand each other the answer. So an answer is plain data, and no piece touches what the other reads.
 */
export type Both = <First, Second>(first: () => First, second: () => Second) => readonly [First, Second];

export const inTurn: Both = (first, second) => [first(), second()];
