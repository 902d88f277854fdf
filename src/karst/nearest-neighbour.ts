import type { LonLat } from '../position/crs';
import { geodesicDistanceM } from '../position/geodesic';
import { convexHull, equalAreaPlane, middleOf, perimeter, ringArea } from './equal-area';
import { SpatialTree } from './spatial-tree';

/** The nearest-neighbour index of Clark & Evans, as it is and corrected for the edge of the region. */
export interface NeighbourIndex {
  readonly count: number;
  /** Places that are taken up by another feature exactly: their distance is 0. */
  readonly coincident: number;
  readonly areaM2: number;
  readonly perimeterM: number;
  readonly meanDistanceM: number;
  /** Index 1 = scattered at random, below = clustered, above = spaced out (2.149 at most). */
  readonly clarkEvans: IndexTest;
  /** With Donnelly's (1978) expectation and error for a region with an edge. */
  readonly donnelly: IndexTest;
}

export interface IndexTest {
  readonly index: number;
  readonly expectedM: number;
  readonly standardErrorM: number;
  readonly z: number;
  /** Two-sided, from the normal distribution. */
  readonly p: number;
}

/**
 * Mean distance to the nearest neighbour against that of as many places strewn at random over the region.
 * R = mean / (0.5 √(A/n)), standard error 0.26136 / √(n²/A) (Clark & Evans 1954, doi 10.2307/1931034).
 * With an edge of length P: mean 0.5 √(A/n) + (0.0514 + 0.041/√n) P/n, variance 0.0703 A/n² + 0.037 P √(A/n⁵)
 * (Donnelly 1978; for regions that are not very drawn out, n > 7).
 */
export function neighbourTest(
  distancesM: readonly number[],
  areaM2: number,
  perimeterM: number,
): Omit<NeighbourIndex, 'coincident'> {
  const n = distancesM.length;
  const mean = distancesM.reduce((sum, each) => sum + each, 0) / n;
  const test = (expectedM: number, standardErrorM: number): IndexTest => {
    const z = (mean - expectedM) / standardErrorM;
    return { index: mean / expectedM, expectedM, standardErrorM, z, p: twoSided(z) };
  };
  const random = 0.5 * Math.sqrt(areaM2 / n);
  return {
    count: n,
    areaM2,
    perimeterM,
    meanDistanceM: mean,
    clarkEvans: test(random, 0.26136 / Math.sqrt((n * n) / areaM2)),
    donnelly: test(
      random + (0.0514 + 0.041 / Math.sqrt(n)) * (perimeterM / n),
      Math.sqrt((0.0703 * areaM2) / (n * n) + 0.037 * perimeterM * Math.sqrt(areaM2 / n ** 5)),
    ),
  };
}

/** Places of a study: their distances to each other are geodesics, the region's area that of the ellipsoid. */
export interface Region {
  /** Ring of the region; absent = the convex hull of the places, which is too small for a fair test and says so. */
  readonly ring?: readonly LonLat[];
}

/** The index of places; null with fewer than 8, for which no significance is known. */
export function neighbourIndex(places: readonly LonLat[], { ring }: Region = {}): NeighbourIndex | null {
  if (places.length < 8) return null;
  const plane = equalAreaPlane(middleOf(places));
  const inPlane = (list: readonly LonLat[]) => list.map(({ lon, lat }) => plane.toPlane(lon, lat));
  const region = ring ? inPlane(ring) : convexHull(inPlane(places));
  const areaM2 = Math.abs(ringArea(region));
  if (!(areaM2 > 0)) return null;
  const tree = new SpatialTree(places);
  const distances = places.map((place, i) => {
    const [nearest] = tree.nearest(i, 1);
    return nearest ? geodesicDistanceM(place, places[nearest.index] as LonLat) : 0;
  });
  return {
    ...neighbourTest(distances, areaM2, perimeter(region)),
    coincident: distances.filter((distance) => distance === 0).length,
  };
}

/** Two-sided chance of a standard normal number at least as far from 0. */
export function twoSided(z: number): number {
  return erfc(Math.abs(z) / Math.SQRT2);
}

/** Complementary error function for x ≥ 0: its series, and the continued fraction from 2 on (DLMF 7.6.2, 7.9.1). */
function erfc(x: number): number {
  if (x < 2) {
    let term = x;
    let sum = x;
    for (let n = 1; Math.abs(term) > 1e-17 * sum; n += 1) {
      term *= (2 * x * x) / (2 * n + 1);
      sum += term;
    }
    return 1 - (2 / Math.sqrt(Math.PI)) * Math.exp(-x * x) * sum;
  }
  let fraction = 0;
  for (let k = 80; k > 0; k -= 1) fraction = k / 2 / (x + fraction);
  return Math.exp(-x * x) / (Math.sqrt(Math.PI) * (x + fraction));
}
