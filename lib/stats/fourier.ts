/**
 * Discrete Fourier transform in place: x_k becomes the sum over j of x_j exp(-2 pi i jk / n). `inverse` undoes it, the
 * division by n included.
 *
 * Domain: both arrays of one length that is a power of two, else a RangeError. Error about 1e-16 times log2(n).
 * Source: Cooley & Tukey, Math. Comp. 19 (1965) 297; Press et al., Numerical Recipes (1992), section 12.2.
 */
export function fourier(real: Float64Array, imaginary: Float64Array, inverse = false): void {
  const n = real.length;
  if (n !== imaginary.length || n < 1 || (n & (n - 1)) !== 0)
    throw new RangeError(`lengths must be one power of two, got ${n} and ${imaginary.length}`);
  reverseBits(real, imaginary);
  for (let size = 2; size <= n; size *= 2) {
    const half = size / 2;
    const angle = ((inverse ? 2 : -2) * Math.PI) / size;
    for (let k = 0; k < half; k++) {
      const [cos, sin] = [Math.cos(angle * k), Math.sin(angle * k)];
      for (let start = k; start < n; start += size) {
        const other = start + half;
        const [xr, xi] = [real[other] ?? 0, imaginary[other] ?? 0];
        const [re, im] = [xr * cos - xi * sin, xr * sin + xi * cos];
        const [ar, ai] = [real[start] ?? 0, imaginary[start] ?? 0];
        real[other] = ar - re;
        imaginary[other] = ai - im;
        real[start] = ar + re;
        imaginary[start] = ai + im;
      }
    }
  }
  if (!inverse) return;
  for (let k = 0; k < n; k++) {
    real[k] = (real[k] ?? 0) / n;
    imaginary[k] = (imaginary[k] ?? 0) / n;
  }
}

function reverseBits(real: Float64Array, imaginary: Float64Array): void {
  const n = real.length;
  for (let i = 1, j = 0; i < n; i++) {
    let bit = n >> 1;
    for (; (j & bit) !== 0; bit >>= 1) j ^= bit;
    j ^= bit;
    if (i >= j) continue;
    const [re, im] = [real[i] ?? 0, imaginary[i] ?? 0];
    real[i] = real[j] ?? 0;
    imaginary[i] = imaginary[j] ?? 0;
    real[j] = re;
    imaginary[j] = im;
  }
}
