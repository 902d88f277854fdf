/** Euler's constant. */
const GAMMA = 0.5772156649015329;
/** Below this the power series is short; above it the integral is. */
const SERIES_BELOW = 2;
/** Step of the trapezoidal rule: its error is about exp(−2π·(π/4)/step), 1e-17. */
const STEP = 0.125;

/** ker x and kei x, the real and imaginary part of K₀(x·e^{iπ/4}). */
export interface KerKei {
  readonly ker: number;
  readonly kei: number;
}

/**
 * The Kelvin functions ker x and kei x of order 0, x > 0, to about 1e-15 of the larger.
 * Up to x = 2 by the ascending series of K₀ (Abramowitz & Stegun 1964, 9.6.13 with 9.9.2), above by the trapezoidal rule
 * on K₀(z) = ∫₀^∞ exp(−z cosh u) du (9.6.24), which converges exponentially (Trefethen & Weideman 2014, SIAM Review 56:385).
 */
export function kerKei(x: number): KerKei {
  return x <= SERIES_BELOW ? bySeries(x) : byIntegral(x);
}

function bySeries(x: number): KerKei {
  const quarter = (x * x) / 4;
  // z = x·e^{iπ/4}: z²/4 = i·quarter.
  let termRe = 1;
  let termIm = 0;
  let besselRe = 1;
  let besselIm = 0;
  let restRe = 0;
  let restIm = 0;
  let harmonic = 0;
  for (let k = 1; k < 30; k += 1) {
    const scale = quarter / (k * k);
    const re = -termIm * scale;
    termIm = termRe * scale;
    termRe = re;
    harmonic += 1 / k;
    besselRe += termRe;
    besselIm += termIm;
    restRe += termRe * harmonic;
    restIm += termIm * harmonic;
    if (Math.abs(termRe) + Math.abs(termIm) < 1e-18) break;
  }
  const logRe = Math.log(x / 2) + GAMMA;
  const logIm = Math.PI / 4;
  return {
    ker: restRe - (logRe * besselRe - logIm * besselIm),
    kei: restIm - (logRe * besselIm + logIm * besselRe),
  };
}

function byIntegral(x: number): KerKei {
  const along = x / Math.SQRT2;
  let ker = (Math.exp(-along) * Math.cos(along)) / 2;
  let kei = (-Math.exp(-along) * Math.sin(along)) / 2;
  for (let u = STEP; ; u += STEP) {
    const s = along * Math.cosh(u);
    const size = Math.exp(-s);
    ker += size * Math.cos(s);
    kei -= size * Math.sin(s);
    if (s - along > 40) break;
  }
  return { ker: ker * STEP, kei: kei * STEP };
}
