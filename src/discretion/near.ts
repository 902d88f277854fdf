import { distanceToShapeM } from '../karst/distances';
import type { LonLat } from '../position/crs';
import { geodesicDistanceM } from '../position/geodesic';
import type { Protected } from './protected';

/** Degrees of latitude in a metre, rounded up. */
const DEGREE_PER_M = 1 / 110_000;
/** Side of the bands that things are filed by, degrees of latitude. */
const BAND_DEG = 0.01;
/** Nearer to a pole, meridians are too close for boxes. */
const POLAR_DEG = 80;
/** Bands of one thing; what is larger is near everything. */
const MOST_BANDS = 500;

type Parts = readonly (readonly LonLat[])[];

/** Something that a share would show, and where. Parts of one place are points, longer ones lines. */
export interface Shown<T> {
  readonly parts: Parts;
  readonly value: T;
}

/** How near things give a place away: the radius of its class, and what its own place is unsure by, m. */
export const reachM = ({ radiusM, r95M }: Pick<Protected, 'radiusM' | 'r95M'>): number => radiusM + r95M;

/** Where a hidden feature lies, part by part. */
export const partsOf = ({ parts, place }: Protected): Parts => (parts.length > 0 ? parts : place ? [[place]] : []);

/** From the nearest of a hidden feature to the nearest of what is shown, m. */
export function distanceToHiddenM(hidden: Protected, shown: Parts): number {
  const own = partsOf(hidden);
  let nearest = Infinity;
  for (const part of shown) {
    const shape = part.length > 1 ? 'line' : 'point';
    for (const place of own.flat()) nearest = Math.min(nearest, distanceToShapeM(place, shape, [part]));
    if (hidden.feature.shape === 'point') continue;
    // A long line can cross a wide feature far from the corners of both.
    for (const place of filled(part, Math.max(5, reachM(hidden) / 2))) {
      nearest = Math.min(nearest, distanceToShapeM(place, hidden.feature.shape, own));
    }
  }
  return nearest;
}

/** A line with places between its corners, no farther apart than a step where a thousand a leg are enough. */
function filled(part: readonly LonLat[], stepM: number): LonLat[] {
  return part.flatMap((place, i) => {
    const next = part[i + 1];
    if (!next) return [place];
    const steps = Math.min(1000, Math.max(1, Math.ceil(geodesicDistanceM(place, next) / stepM)));
    const turn = next.lon - place.lon - 360 * Math.round((next.lon - place.lon) / 360);
    return Array.from({ length: steps }, (_, k) => ({
      lon: place.lon + (turn * k) / steps,
      lat: place.lat + ((next.lat - place.lat) * k) / steps,
    }));
  });
}

interface Box {
  readonly south: number;
  readonly north: number;
  readonly west: number;
  /** Eastward from `west`, degrees. */
  readonly wide: number;
}

function boxOf(parts: Parts, marginM: number): Box | null {
  const [first] = parts[0] ?? [];
  if (!first) return null;
  let [south, north, west, east] = [first.lat, first.lat, 0, 0];
  for (const part of parts) {
    for (const { lon, lat } of part) {
      south = Math.min(south, lat);
      north = Math.max(north, lat);
      const turn = lon - first.lon - 360 * Math.round((lon - first.lon) / 360);
      west = Math.min(west, turn);
      east = Math.max(east, turn);
    }
  }
  const margin = marginM * DEGREE_PER_M;
  const widest = Math.max(Math.abs(south - margin), Math.abs(north + margin));
  if (widest > POLAR_DEG) return { south: south - margin, north: north + margin, west: -180, wide: 360 };
  const across = margin / Math.cos((widest * Math.PI) / 180);
  return {
    south: south - margin,
    north: north + margin,
    west: first.lon + west - across,
    wide: east - west + 2 * across,
  };
}

function meet(p: Box, q: Box): boolean {
  if (p.south > q.north || q.south > p.north) return false;
  const ahead = (((q.west - p.west) % 360) + 360) % 360;
  return ahead <= p.wide || 360 - ahead <= q.wide;
}

/** Files what is shown by latitude; what comes back is what may lie near a hidden feature, to be measured. */
export function nearIndex<T>(shown: readonly Shown<T>[]): (hidden: Protected, marginM: number) => readonly Shown<T>[] {
  const bands = new Map<number, number[]>();
  const wide: number[] = [];
  const boxes = shown.map(({ parts }) => boxOf(parts, 0));
  for (const [i, box] of boxes.entries()) {
    if (!box) continue;
    const [from, to] = [Math.floor(box.south / BAND_DEG), Math.floor(box.north / BAND_DEG)];
    if (to - from > MOST_BANDS) wide.push(i);
    else
      for (let band = from; band <= to; band += 1) {
        const own = bands.get(band);
        if (own) own.push(i);
        else bands.set(band, [i]);
      }
  }
  return (hidden, marginM) => {
    const box = boxOf(partsOf(hidden), marginM);
    if (!box) return [];
    const found = new Set<number>(wide);
    for (let band = Math.floor(box.south / BAND_DEG); band <= Math.floor(box.north / BAND_DEG); band += 1) {
      for (const i of bands.get(band) ?? []) found.add(i);
    }
    return [...found]
      .sort((p, q) => p - q)
      .flatMap((i) => {
        const other = boxes[i];
        return other && meet(box, other) ? [shown[i] as Shown<T>] : [];
      });
  };
}
