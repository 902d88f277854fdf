import { factorOfPlacesM, type Place, type Sphere, type SurfaceElectrodes } from '../../src/ground/small-void';

/** Terms fall as (R²/dr)ⁿ; no sphere under a roof worth the name needs more. */
const MOST_TERMS = 400;
const SMALLEST_TERM = 1e-13;

/**
 * Σ n(ρ₂ − ρ₁)/(nρ₁ + (n+1)ρ₂) · R^(2n+1)/(d r)^(n+1) · Pₙ(cos t), 1/m: what the sphere answers at P to a current at C;
 * d, r = distances from the centre, t = the angle there.
 */
function seriesPerM(sphere: Sphere, hostOhmM: number, c: Place, p: Place): number {
  const [cx, cy, cz] = [c[0] - sphere.centre[0], c[1] - sphere.centre[1], c[2] - sphere.centre[2]];
  const [px, py, pz] = [p[0] - sphere.centre[0], p[1] - sphere.centre[1], p[2] - sphere.centre[2]];
  const d = Math.hypot(cx, cy, cz);
  const r = Math.hypot(px, py, pz);
  const cosine = (cx * px + cy * py + cz * pz) / (d * r);
  const step = (sphere.radiusM / d) * (sphere.radiusM / r);
  const hostOverFill = hostOhmM / sphere.fillOhmM;
  let power = sphere.radiusM / (d * r);
  let [before, legendre] = [1, cosine];
  let sum = 0;
  for (let n = 1; n <= MOST_TERMS; n += 1) {
    power *= step;
    const contrast = sphere.fillOhmM === 0 ? -1 : (n * (1 - hostOverFill)) / (n * hostOverFill + n + 1);
    sum += contrast * power * legendre;
    if (power < SMALLEST_TERM * Math.abs(sum)) break;
    [before, legendre] = [legendre, ((2 * n + 1) * cosine * legendre - n * before) / (n + 1)];
  }
  return sum;
}

/**
 * Relative change ρa/ρ₁ − 1 by a sphere under flat uniform ground, every multipole but without the mirror sphere acting
 * back: for pole-pole 2a times the series above (Van Nostrand 1953, Geophysics 18:423-433, from memory; the series of a
 * sphere under a point source, doubled for the mirror sphere). Zero fill is a perfect conductor. The sphere has to lie
 * below the electrodes.
 */
export function sphereSeriesResponse(sphere: Sphere, hostOhmM: number, electrodes: SurfaceElectrodes): number {
  const { a, b, m, n } = electrodes;
  const between = (c: Place | null, p: Place | null): number => (c && p ? seriesPerM(sphere, hostOhmM, c, p) : 0);
  const sum = between(a, m) - between(a, n) - between(b, m) + between(b, n);
  return (factorOfPlacesM(electrodes) * sum) / Math.PI;
}
