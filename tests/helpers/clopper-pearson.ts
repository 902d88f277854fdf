/*
 * Exact limits of a share (Clopper & Pearson 1934, Biometrika 26:404): the ends are quantiles of beta distributions,
 * low = B(α/2; k, n − k + 1), high = B(1 − α/2; k + 1, n − k).
 */

/** ln Γ(x) for x > 0 by Stirling's series, pushed up to where it is exact to 1e-13. */
function lnGamma(x: number): number {
  let shift = 0;
  let z = x;
  while (z < 12) {
    shift -= Math.log(z);
    z += 1;
  }
  const inverse = 1 / (z * z);
  const series = (1 / 12 - inverse * (1 / 360 - inverse * (1 / 1260 - inverse / 1680))) / z;
  return shift + (z - 0.5) * Math.log(z) - z + 0.5 * Math.log(2 * Math.PI) + series;
}

/** Regularised incomplete beta function I_x(a, b) by its continued fraction (DLMF 8.17.22). */
export function incompleteBeta(x: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  if (x > (a + 1) / (a + b + 2)) return 1 - incompleteBeta(1 - x, b, a);
  const front = Math.exp(lnGamma(a + b) - lnGamma(a) - lnGamma(b) + a * Math.log(x) + b * Math.log1p(-x)) / a;
  const tiny = 1e-300;
  let c = 1;
  let d = 1 / (1 - ((a + b) * x) / (a + 1) || tiny);
  let sum = d;
  for (let m = 1; m < 500; m += 1) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / (1 + even * d || tiny);
    c = 1 + even / c || tiny;
    sum *= c * d;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / (1 + odd * d || tiny);
    c = 1 + odd / c || tiny;
    sum *= c * d;
    if (Math.abs(c * d - 1) < 1e-15) break;
  }
  return front * sum;
}

function betaQuantile(p: number, a: number, b: number): number {
  let [low, high] = [0, 1];
  for (let i = 0; i < 200; i += 1) {
    const middle = (low + high) / 2;
    if (incompleteBeta(middle, a, b) < p) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Of `hits` in `tries`, with this confidence (0.95 when not said). */
export function clopperPearson(hits: number, tries: number, confidence = 0.95): { low: number; high: number } {
  const tail = (1 - confidence) / 2;
  return {
    low: hits === 0 ? 0 : betaQuantile(tail, hits, tries - hits + 1),
    high: hits === tries ? 1 : betaQuantile(1 - tail, hits + 1, tries - hits),
  };
}
