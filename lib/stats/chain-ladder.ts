/** Cumulative counts by origin (rows, oldest first) and time since then (columns); rows may grow shorter. */
export type Triangle = readonly (readonly number[])[];

export interface ChainLadderRow {
  readonly latest: number;
  /** Expected when all is in. */
  readonly ultimate: number;
  readonly standardError: number;
}

export interface ChainLadder {
  /** Of column k + 1 over column k. */
  readonly factors: readonly number[];
  readonly variances: readonly number[];
  readonly rows: readonly ChainLadderRow[];
  /** Still to come, over all rows, and its standard error, which counts that the rows share their factors. */
  readonly outstanding: number;
  readonly standardError: number;
}

/**
 * Answers: how many are still to come in, if each origin month goes on as those before it did?
 *
 * Chain ladder: factor f(k) = sum of column k + 1 over sum of column k; ultimate = latest times the factors left. Standard
 * errors after Mack, without assuming a distribution; the last variance, for which no data are left, is the smallest of
 * sigma2(k-1)^2 / sigma2(k-2), sigma2(k-2), sigma2(k-1). Nothing is said of what comes after the last column.
 *
 * Domain: three rows or more, the first the longest, each row as long as the one above or shorter, values above 0 in each
 * column a factor is taken from, else a RangeError. Source: Mack, ASTIN Bulletin 23 (1993) 213-225.
 */
export function chainLadder(triangle: Triangle): ChainLadder {
  const columns = checkedColumns(triangle);
  const factors: number[] = [];
  const variances: number[] = [];
  const columnSums: number[] = [];
  for (let k = 0; k + 1 < columns; k++) {
    const known = triangle.filter((row) => row.length > k + 1);
    const sum = total(known.map((row) => row[k] ?? 0));
    const factor = total(known.map((row) => row[k + 1] ?? 0)) / sum;
    if (!Number.isFinite(factor)) throw new RangeError(`column ${k + 1} holds nothing to take a factor from`);
    const squares = known.map((row) => (row[k] ?? 0) * ((row[k + 1] ?? 0) / (row[k] || 1) - factor) ** 2);
    factors.push(factor);
    columnSums.push(sum);
    variances.push(known.length > 1 ? total(squares) / (known.length - 1) : lastVariance(variances));
  }
  /** sigma2(k) / f(k)^2, over what it is divided by. */
  const relative = (k: number) => (variances[k] ?? 0) / (factors[k] ?? 1) ** 2;

  const rows = triangle.map((row): ChainLadderRow => {
    let expected = row.at(-1) ?? 0;
    let variance = 0;
    for (let k = row.length - 1; k + 1 < columns; k++) {
      variance += expected === 0 ? 0 : relative(k) * (1 / expected + 1 / (columnSums[k] ?? 1));
      expected *= factors[k] ?? 1;
    }
    return { latest: row.at(-1) ?? 0, ultimate: expected, standardError: expected * Math.sqrt(variance) };
  });
  let variance = 0;
  for (const [i, { ultimate, standardError }] of rows.entries()) {
    const younger = total(rows.slice(i + 1).map((row) => row.ultimate));
    let shared = 0;
    for (let k = (triangle[i]?.length ?? 0) - 1; k + 1 < columns; k++)
      shared += (2 * relative(k)) / (columnSums[k] ?? 1);
    variance += standardError ** 2 + ultimate * younger * shared;
  }
  const outstanding = total(rows.map(({ latest, ultimate }) => ultimate - latest));
  return { factors, variances, rows, outstanding, standardError: Math.sqrt(variance) };
}

function checkedColumns(triangle: Triangle): number {
  const columns = triangle[0]?.length ?? 0;
  if (triangle.length < 3 || columns < 2) throw new RangeError("a triangle needs three rows and two columns");
  for (const [i, row] of triangle.entries()) {
    if (row.length === 0 || row.length > (triangle[i - 1]?.length ?? columns))
      throw new RangeError(`row ${i + 1} must be as long as the one above it or shorter`);
    if (!row.every((value) => value >= 0 && Number.isFinite(value)))
      throw new RangeError(`row ${i + 1} holds something below 0`);
  }
  return columns;
}

function lastVariance(variances: readonly number[]): number {
  const last = variances.at(-1) ?? 0;
  const before = variances.at(-2) ?? last;
  return before === 0 ? 0 : Math.min(last ** 2 / before, before, last);
}

function total(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0);
}
