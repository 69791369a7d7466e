import { expect, test } from "vitest";
import { oneRoundAtATime } from "@/lib/data/returns/one-round-at-a-time";

const settled = () => new Promise((done) => setTimeout(done, 0));

test("a round that is still under way is not joined by the next; the one after it, and after one that failed, is", async () => {
  const ends: { readonly end: () => void; readonly fail: (error: Error) => void }[] = [];
  const told: unknown[] = [];
  const begin = oneRoundAtATime(
    () => new Promise<void>((end, fail) => ends.push({ end, fail })),
    (error) => told.push(error),
  );
  begin();
  begin();
  expect(ends).toHaveLength(1);
  ends[0]?.end();
  await settled();
  begin();
  expect(ends).toHaveLength(2);
  const failure = new Error("no connection");
  ends[1]?.fail(failure);
  await settled();
  expect(told).toEqual([failure]);
  begin();
  expect(ends).toHaveLength(3);
});
