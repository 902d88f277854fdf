/** 97.5 % point of the standard normal distribution: half the width of a two-sided 95 % range in σ. */
export const NORMAL_95 = 1.959963984540054;

/**
 * P(|T| < t) of Student's distribution with a whole number of degrees of freedom ≥ 1
 * (Abramowitz & Stegun 1964, 26.7.3 and 26.7.4).
 */
export function studentWithin(t: number, degrees: number): number {
  const angle = Math.atan(t / Math.sqrt(degrees));
  const cosine = Math.cos(angle);
  const odd = degrees % 2 === 1;
  let term = odd ? cosine : 1;
  let sum = degrees === 1 ? 0 : term;
  for (let k = odd ? 3 : 2; k <= degrees - 2; k += 2) {
    term *= (cosine * cosine * (k - 1)) / k;
    sum += term;
  }
  return odd ? (2 / Math.PI) * (angle + Math.sin(angle) * sum) : Math.sin(angle) * sum;
}

/**
 * Half the width of a two-sided 95 % range in standard errors, when σ is estimated with so many degrees of freedom
 * (a whole number, 1 or more); 1.96 for Infinity.
 */
export function student95(degrees: number): number {
  if (degrees > 1000) return NORMAL_95 * (1 + (NORMAL_95 ** 2 + 1) / (4 * degrees));
  let low = NORMAL_95;
  let high = 13;
  for (let i = 0; i < 60; i += 1) {
    const middle = (low + high) / 2;
    if (studentWithin(middle, degrees) < 0.95) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
