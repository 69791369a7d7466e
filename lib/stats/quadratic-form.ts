/**
 * Quadratic form u' V^-1 u for a symmetric positive definite V given as rows, by Cholesky factorisation: V = L L',
 * L y = u, result y'y. Directions in which V has no variance (pivot below `tolerance` times the largest diagonal
 * element) are left out and lower the `rank`, as for a generalised inverse.
 * Source: Golub & Van Loan, Matrix Computations (2013), section 4.2.
 */
export function quadraticForm(
  matrix: readonly (readonly number[])[],
  vector: readonly number[],
  tolerance = 1e-10,
): { readonly value: number; readonly rank: number } {
  const largest = Math.max(0, ...matrix.map((row, i) => row[i] ?? 0));
  const lower: number[][] = [];
  const solved: number[] = [];
  let value = 0;
  let rank = 0;
  for (const [i, row] of matrix.entries()) {
    const factors: number[] = [];
    for (const [j, other] of lower.entries()) {
      const pivot = other[j] ?? 0;
      factors.push(pivot === 0 ? 0 : ((row[j] ?? 0) - dot(factors, other)) / pivot);
    }
    const left = (row[i] ?? 0) - dot(factors, factors);
    const pivot = left > tolerance * largest ? Math.sqrt(left) : 0;
    const y = pivot === 0 ? 0 : ((vector[i] ?? 0) - dot(factors, solved)) / pivot;
    lower.push([...factors, pivot]);
    solved.push(y);
    value += y * y;
    if (pivot > 0) rank += 1;
  }
  return { value, rank };
}

/** Over the length of the shorter one. */
function dot(a: readonly number[], b: readonly number[]): number {
  let sum = 0;
  for (let i = 0; i < Math.min(a.length, b.length); i++) sum += (a[i] ?? 0) * (b[i] ?? 0);
  return sum;
}
