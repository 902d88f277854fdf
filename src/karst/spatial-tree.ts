import type { LonLat } from '../position/crs';

/*
 * A k-d tree over points of the Earth in coordinates from its centre (WGS 84 ellipsoid), so that neither poles nor the
 * 180° meridian are special, and heaps of points on one place cost no more than others. Chords order and bound
 * candidates (a chord is never longer than the geodesic); lengths that are reported are geodesics.
 */

const A_M = 6378137;
const F = 1 / 298.257223563;
const E2 = F * (2 - F);
/** Points of a leaf. */
const LEAF = 16;

export interface Neighbour {
  readonly index: number;
  readonly chordM: number;
}

export class SpatialTree {
  private readonly xyz: Float64Array;
  private readonly order: Uint32Array;

  constructor(places: readonly LonLat[]) {
    this.xyz = new Float64Array(3 * places.length);
    this.order = Uint32Array.from(places, (_, i) => i);
    places.forEach(({ lon, lat }, i) => {
      const [sinLat, cosLat] = [Math.sin((lat * Math.PI) / 180), Math.cos((lat * Math.PI) / 180)];
      const normal = A_M / Math.sqrt(1 - E2 * sinLat * sinLat);
      this.xyz[3 * i] = normal * cosLat * Math.cos((lon * Math.PI) / 180);
      this.xyz[3 * i + 1] = normal * cosLat * Math.sin((lon * Math.PI) / 180);
      this.xyz[3 * i + 2] = normal * (1 - E2) * sinLat;
    });
    this.build(0, places.length, 0);
  }

  private at(index: number, axis: number): number {
    return this.xyz[3 * index + axis] as number;
  }

  private build(from: number, to: number, axis: number): void {
    if (to - from <= LEAF) return;
    const middle = (from + to) >> 1;
    this.select(from, to - 1, middle, axis);
    this.build(from, middle, (axis + 1) % 3);
    this.build(middle + 1, to, (axis + 1) % 3);
  }

  /** Hoare's selection: what stands at `k` is as if sorted, smaller before it and larger behind. */
  private select(first: number, last: number, k: number, axis: number): void {
    const { order } = this;
    let [low, high] = [first, last];
    while (low < high) {
      const pivot = this.at(order[(low + high) >> 1] as number, axis);
      let [i, j] = [low, high];
      while (i <= j) {
        while (this.at(order[i] as number, axis) < pivot) i += 1;
        while (this.at(order[j] as number, axis) > pivot) j -= 1;
        if (i <= j) {
          const swap = order[i] as number;
          order[i] = order[j] as number;
          order[j] = swap;
          i += 1;
          j -= 1;
        }
      }
      if (k <= j) high = j;
      else if (k >= i) low = i;
      else return;
    }
  }

  /**
   * The nearest points of one of the tree's points, itself left out, by growing chord and then by index.
   * At most `count` of them, none farther than `withinM`.
   */
  nearest(index: number, count: number, withinM = Infinity): readonly Neighbour[] {
    const found: { index: number; square: number }[] = [];
    const [x, y, z] = [this.at(index, 0), this.at(index, 1), this.at(index, 2)];
    const own = [x, y, z];
    let bound = withinM * withinM;
    const consider = (candidate: number): void => {
      if (candidate === index) return;
      const square =
        (this.at(candidate, 0) - x) ** 2 + (this.at(candidate, 1) - y) ** 2 + (this.at(candidate, 2) - z) ** 2;
      if (square > bound || (found.length === count && square === bound)) return;
      let place = found.length;
      while (place > 0 && (found[place - 1] as { square: number }).square > square) place -= 1;
      found.splice(place, 0, { index: candidate, square });
      if (found.length > count) found.pop();
      if (found.length === count) bound = Math.min(bound, (found[count - 1] as { square: number }).square);
    };
    const walk = (from: number, to: number, axis: number): void => {
      if (to - from <= LEAF) {
        for (let i = from; i < to; i += 1) consider(this.order[i] as number);
        return;
      }
      const middle = (from + to) >> 1;
      const split = this.order[middle] as number;
      const beyond = (own[axis] as number) - this.at(split, axis);
      const next = (axis + 1) % 3;
      if (beyond < 0) walk(from, middle, next);
      else walk(middle + 1, to, next);
      consider(split);
      const full = found.length === count;
      if (full ? beyond * beyond < bound : beyond * beyond <= bound) {
        if (beyond < 0) walk(middle + 1, to, next);
        else walk(from, middle, next);
      }
    };
    if (count > 0) walk(0, this.order.length, 0);
    found.sort((p, q) => p.square - q.square || p.index - q.index);
    return found.map(({ index: at, square }) => ({ index: at, chordM: Math.sqrt(square) }));
  }
}
