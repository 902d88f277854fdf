/**
 * How many standard deviations of one normal number are as rare as a sum of squares (chi-square) of one or two of them:
 * so that "over 3 σ" means 0.27 % of honest cases whether one or two directions were looked at.
 */
export function sigmasOf(squares: number, directions: number): number {
  if (directions < 2 || !(squares > 0)) return Math.sqrt(Math.max(0, squares));
  // Two directions: the chance is exp(-squares / 2); Newton on its logarithm from above.
  if (squares < 1e-12) return 0;
  // The tail of a normal number by its leading term is a good beginning far out, the square root near the middle.
  let z = squares > 4 ? Math.sqrt(squares - Math.log((squares * Math.PI) / 2)) : Math.sqrt(squares) / 2;
  for (let i = 0; i < 8; i += 1) {
    const { log, slope } = logTails(z);
    const step = (log + squares / 2) / slope;
    z = Math.max(1e-9, z - step);
    if (Math.abs(step) < 1e-7 * z) break;
  }
  return z;
}

/** Logarithm of the chance that a normal number lies beyond ±z, and its derivative. */
function logTails(z: number): { log: number; slope: number } {
  const logDensity = -(z * z) / 2 + LOG_TWO_DENSITY;
  // Mills' ratio by its continued fraction; near the middle by the series of the integral (Abramowitz & Stegun 26.2).
  if (z > 2) {
    let fraction = 0;
    for (let k = 40; k >= 1; k -= 1) fraction = k / (z + fraction);
    const mills = 1 / (z + fraction);
    return { log: logDensity + Math.log(mills), slope: -1 / mills };
  }
  let term = z;
  let inside = z;
  for (let k = 1; k < 40; k += 1) {
    term *= (z * z) / (2 * k + 1);
    inside += term;
  }
  const tails = 1 - Math.exp(logDensity) * inside;
  return { log: Math.log(tails), slope: -Math.exp(logDensity) / tails };
}

/** ln √(2/π): twice the density at the middle. */
const LOG_TWO_DENSITY = Math.log(2 / Math.PI) / 2;
