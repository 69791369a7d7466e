import { expect, test } from "vitest";
import { confirmationSentence, lagSentence, reportingLag, settledAfterDays } from "@/lib/reliability/reporting-lag";
import type { TruncatedLag } from "@/lib/stats/reverse-product-limit";

const lags = Array.from({ length: 60 }, (_, i) => ({ lag: i % 10, longest: 5 + 10 * i })).filter(
  ({ lag, longest }) => lag <= longest,
);

function known(some: readonly TruncatedLag[]) {
  const lag = reportingLag(some);
  if (lag.kind === "no-lag") throw new Error(`an estimate is expected, got ${lag.reason}`);
  return lag;
}

test("the lag allows for what is still on its way, and lags of more than a quarter of a year are told of", () => {
  expect(known(lags).mostDays).toBe(9);
  expect(lagSentence(reportingLag(lags))).toMatch(
    /^Half of what customers tell a dealer reaches us within [0-9]+ days, 95 of 100 within 9 days/,
  );
  const clipped = reportingLag([...lags, { lag: 93, longest: 400, count: 3 }]);
  expect(clipped).toMatchObject({ returns: lags.length, tooLate: 3, mostDays: 9 });
  expect(confirmationSentence(clipped)).toMatch(
    /95 of 100 within 9 days .*; 3 that took more than 92 days are left out\)/,
  );
});

test("one old slow return leaves the correction in force: it is left out, and that is said", () => {
  // By hand: of returns told 58 days ago or earlier this is the only one, so all that are old enough took just so long.
  const young = Array.from({ length: 200 }, (_, i) => ({ lag: 10 + (i % 15), longest: 25 + (i % 33) }));
  const lag = known([{ lag: 58, longest: 60 }, ...young]);
  expect(lag).toMatchObject({ returns: 200, tooLate: 1, leftOutFromDays: 58 });
  expect(lag.reporting).toEqual(expect.objectContaining({ longestLagDays: known(young).reporting.longestLagDays }));
  expect(lag.reporting.shareKnown(12)).toBeCloseTo(known(young).reporting.shareKnown(12), 12);
  expect(lag.reporting.shareKnown(12)).toBeLessThan(0.5);
  expect(confirmationSentence(lag)).toMatch(
    /; 1 that took 58 days or more are left out, since hardly any other is old/,
  );
});

test("too few returns and too young ones are two reasons, in two sentences", () => {
  const few = reportingLag(lags.slice(0, 5));
  expect(few).toMatchObject({ kind: "no-lag", reason: "few-returns", returns: 5 });
  expect(lagSentence(few)).toMatch(/cannot be estimated yet from fewer than 20 returns, so nothing is corrected/);
  // Of each age only one: at every lag all that are old enough have just this lag.
  const young = reportingLag(Array.from({ length: 30 }, (_, i) => ({ lag: i, longest: i })));
  expect(young).toMatchObject({ kind: "no-lag", reason: "none-old-enough", returns: 30 });
  expect(confirmationSentence(young)).toMatch(/: of 30 confirmed failures hardly any was told so long ago/);
  expect(confirmationSentence(young)).toMatch(/young packs look better than they are/);
});

test("without an estimate laws leave out a quarter of a year", () => {
  expect(settledAfterDays(reportingLag([]))).toBe(92);
  expect(settledAfterDays(reportingLag(lags))).toBe(9);
});
