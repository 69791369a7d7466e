/** What came in of the events of one period after one delay. */
export interface DelayCell {
  /** Positions counted from 0. */
  readonly period: number;
  readonly delay: number;
  readonly count: number;
}

export interface NowcastRow {
  readonly period: number;
  readonly reported: number;
  readonly expectedUnreported: number;
  readonly nowcast: number;
}

export interface Nowcast {
  /** In the order of the periods. */
  readonly rows: readonly NowcastRow[];
  /** Share of events with each delay, and up to each delay, over all periods as completed. */
  readonly delayShares: readonly number[];
  readonly delayCumulative: readonly number[];
  /**
   * Pearson chi-square over its degrees of freedom: 1 for Poisson counts. Above it, standard errors of the nowcast are to be
   * multiplied by its square root. Null where no degrees of freedom are left.
   */
  readonly dispersion: number | null;
  readonly degreesOfFreedom: number;
}

const MOST_ROUNDS = 10_000;

/**
 * Answers: how many events have really happened in each period, when the latest are not all reported yet?
 *
 * Poisson model: expected count = (level of the period) x (share of the delay), fitted to the cells that can have come in by
 * iterative proportional fitting, which is its maximum likelihood; the missing cells are filled with their expectation. It
 * is the chain ladder for counts. Assumes delays that do not change; look at the dispersion before believing errors.
 *
 * Cells not listed have not come in yet; a cell that could have come in without anything must be listed with 0. A period
 * with nothing reported at all has a nowcast of 0: it says nothing, not "none".
 * Domain: whole positions from 0, counts from 0, a cell once, else a RangeError.
 * Source: Davison & Hinkley, Bootstrap Methods and their Application (1997), example 7.4; Kaminsky, Insurance: Math. Econ. 6
 * (1987) 113-123.
 */
export function nowcastDelays(cells: readonly DelayCell[]): Nowcast {
  checkCells(cells);
  const periods = 1 + Math.max(-1, ...cells.map(({ period }) => period));
  const delays = 1 + Math.max(-1, ...cells.map(({ delay }) => delay));
  const { level, share } = fitted(cells, periods, delays);
  const seen = new Set(cells.map(({ period, delay }) => period * delays + delay));
  const reported = sumsBy(cells, periods, ({ period }) => period);
  const rows = Array.from({ length: periods }, (_, period): NowcastRow => {
    let expectedUnreported = 0;
    for (let delay = 0; delay < delays; delay++)
      if (!seen.has(period * delays + delay)) expectedUnreported += (level[period] ?? 0) * (share[delay] ?? 0);
    const known = reported[period] ?? 0;
    return { period, reported: known, expectedUnreported, nowcast: known + expectedUnreported };
  });
  const totalShare = share.reduce((sum, part) => sum + part, 0);
  const delayShares = Array.from(share, (part) => (totalShare > 0 ? part / totalShare : 0));
  let cumulative = 0;
  const delayCumulative = delayShares.map((part) => {
    cumulative += part;
    return cumulative;
  });
  return { rows, delayShares, delayCumulative, ...dispersionOf(cells, level, share) };
}

function fitted(cells: readonly DelayCell[], periods: number, delays: number) {
  const level = new Float64Array(periods).fill(1);
  const share = new Float64Array(delays).fill(1);
  const byPeriod = sumsBy(cells, periods, ({ period }) => period);
  const byDelay = sumsBy(cells, delays, ({ delay }) => delay);
  for (let round = 0; round < MOST_ROUNDS; round++) {
    let change = 0;
    const offered = new Float64Array(periods);
    for (const { period, delay } of cells) offered[period] = (offered[period] ?? 0) + (share[delay] ?? 0);
    for (const [period, sum] of byPeriod.entries()) level[period] = sum === 0 ? 0 : sum / (offered[period] ?? 1);
    const asked = new Float64Array(delays);
    for (const { period, delay } of cells) asked[delay] = (asked[delay] ?? 0) + (level[period] ?? 0);
    for (const [delay, sum] of byDelay.entries()) {
      const next = sum === 0 ? 0 : sum / (asked[delay] ?? 1);
      change = Math.max(change, Math.abs(next - (share[delay] ?? 0)) / (next || 1));
      share[delay] = next;
    }
    if (change < 1e-14) break;
  }
  return { level, share };
}

function dispersionOf(cells: readonly DelayCell[], level: Float64Array, share: Float64Array) {
  let pearson = 0;
  let used = 0;
  for (const { period, delay, count } of cells) {
    const expected = (level[period] ?? 0) * (share[delay] ?? 0);
    // A row or column of zeros is fitted exactly and uses up its own parameter.
    if (expected === 0) continue;
    used += 1;
    pearson += (count - expected) ** 2 / expected;
  }
  const parameters = level.filter((x) => x > 0).length + share.filter((x) => x > 0).length - 1;
  const degreesOfFreedom = Math.max(0, used - parameters);
  return { dispersion: degreesOfFreedom > 0 ? pearson / degreesOfFreedom : null, degreesOfFreedom };
}

function sumsBy(cells: readonly DelayCell[], length: number, key: (cell: DelayCell) => number): Float64Array {
  const sums = new Float64Array(length);
  for (const cell of cells) sums[key(cell)] = (sums[key(cell)] ?? 0) + cell.count;
  return sums;
}

function checkCells(cells: readonly DelayCell[]): void {
  const seen = new Set<string>();
  for (const { period, delay, count } of cells) {
    const isPlace = Number.isSafeInteger(period) && Number.isSafeInteger(delay) && period >= 0 && delay >= 0;
    if (!isPlace || !(count >= 0 && Number.isFinite(count)))
      throw new RangeError(`no cell: period ${period}, delay ${delay}, count ${count}`);
    if (seen.has(`${period}|${delay}`)) throw new RangeError(`period ${period}, delay ${delay} is listed twice`);
    seen.add(`${period}|${delay}`);
  }
}
