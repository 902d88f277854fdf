import type { ElectrodeDistances } from '../../src/ground/geometric-factor';

/** Flat ground of two layers: a cover of even thickness over a base without a bottom. */
export interface TwoLayerGround {
  /** Resistivity of the cover, Ω·m; above 0 and finite. */
  readonly topOhmM: number;
  /** Resistivity of the base, Ω·m; above 0 and finite. */
  readonly baseOhmM: number;
  /** Thickness of the cover, m; above 0. */
  readonly topThicknessM: number;
}

/** The images left out of the series together weigh less than this share of the result. */
const TAIL = 1e-11;

/** k = (ρ₂ − ρ₁)/(ρ₂ + ρ₁), between −1 (base conducts perfectly) and 1 (base insulates). */
export function reflectionCoefficient({ topOhmM, baseOhmM }: TwoLayerGround): number {
  return (baseOhmM - topOhmM) / (baseOhmM + topOhmM);
}

/**
 * Surface potential in volts at a distance (m, above 0; Infinity gives 0) from a point current of 1 A at the surface,
 * which is the resistance in ohms of a pole-pole pair that far apart:
 * V(r) = ρ₁/2π · [1/r + 2 Σ kⁿ/√(r² + (2nh)²)], n = 1, 2, … (method of images; Van Nostrand & Cook 1966, USGS
 * Professional Paper 499).
 * Summed until the rest is certainly below 1e-11 of the result: the images weaken by k or more each, and V(r)·2πr lies
 * between ρ₁ and ρ₂. About 500 images at |k| = 0.95; the number grows as 1/(1 − |k|).
 */
export function potentialPerAmpere(ground: TwoLayerGround, distanceM: number): number {
  if (distanceM === Infinity) return 0;
  const k = reflectionCoefficient(ground);
  const stepM = 2 * ground.topThicknessM;
  const smallest = Math.min(1, ground.baseOhmM / ground.topOhmM) / distanceM;
  const enough = TAIL * smallest * (1 - Math.abs(k));
  let sum = 1 / distanceM;
  let strength = 1;
  for (let n = 1; ; n += 1) {
    strength *= k;
    const image = (2 * strength) / Math.sqrt(distanceM * distanceM + (n * stepM) ** 2);
    sum += image;
    if (Math.abs(image) <= enough) break;
  }
  return (ground.topOhmM * sum) / (2 * Math.PI);
}

/** R in ohms of four electrodes on the surface: V(AM) − V(AN) − V(BM) + V(BN). Remotes at Infinity count nothing. */
export function twoLayerResistanceOhm(ground: TwoLayerGround, { am, an, bm, bn }: ElectrodeDistances): number {
  return (
    potentialPerAmpere(ground, am) -
    potentialPerAmpere(ground, an) -
    potentialPerAmpere(ground, bm) +
    potentialPerAmpere(ground, bn)
  );
}

/** Apparent resistivity in Ω·m of a pole-pole pair `spacingM` apart with infinitely far remotes: 2πa·V(a). */
export function polePoleOhmM(ground: TwoLayerGround, spacingM: number): number {
  return 2 * Math.PI * spacingM * potentialPerAmpere(ground, spacingM);
}

/** Apparent resistivity in Ω·m of a Wenner alpha reading, four electrodes `spacingM` apart: 4πa·[V(a) − V(2a)]. */
export function wennerAlphaOhmM(ground: TwoLayerGround, spacingM: number): number {
  return 4 * Math.PI * spacingM * (potentialPerAmpere(ground, spacingM) - potentialPerAmpere(ground, 2 * spacingM));
}
