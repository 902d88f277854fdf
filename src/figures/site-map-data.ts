import type { ZoneVerdict } from '../findings';
import type { MarkKey } from './mark-key';

/** Metres east and north of the middle of the map, in a plane of scale 1. */
export type MapPoint = readonly [eastM: number, northM: number];

interface Drawn {
  readonly id: string;
  /** What it is and means, in words: its accessible name, and what a click tells. */
  readonly words: string;
}

export interface MapLine extends Drawn {
  readonly name: string;
  readonly pieces: readonly (readonly MapPoint[])[];
}

/** A stretch of line with its mark; those without words of their own are drawn together. */
export interface MapSegment {
  readonly id: string;
  readonly words: string | null;
  readonly key: MarkKey;
  readonly piece: readonly MapPoint[];
}

/** Rings of polygons, outer ones and holes wound against each other. */
export type MapRings = readonly (readonly MapPoint[])[];

export interface MapZone extends Drawn {
  readonly name: string;
  readonly verdict: ZoneVerdict;
  /** Two-probe readings and nothing else: a place to look at, no finding. */
  readonly hint: boolean;
  readonly rings: MapRings;
}

export interface MapArea extends Drawn {
  readonly rings: MapRings;
}

/** `hollow`: a closed depression; `opening`: a way under ground; `water`: where it comes or goes. */
export type FeatureGlyph = 'hollow' | 'opening' | 'water' | 'other';

export interface MapFeature extends Drawn {
  readonly glyph: FeatureGlyph;
  readonly point: MapPoint | null;
  readonly lines: readonly (readonly MapPoint[])[];
  readonly rings: MapRings;
  /** Side of the square that its place is shown by, m; null = as exact as it is known. */
  readonly gridM: number | null;
}

export interface SiteMapData {
  readonly title: string;
  readonly summary: string;
  readonly lines: readonly MapLine[];
  readonly segments: readonly MapSegment[];
  readonly zones: readonly MapZone[];
  readonly corridors: readonly MapArea[];
  readonly setbacks: readonly MapArea[];
  readonly features: readonly MapFeature[];
}

/** West, south, east, north in metres. */
export type MapBounds = readonly [number, number, number, number];

const LEAST_SIDE_M = 20;

/** What the map is about: lines, zones and corridors; features alone where there is nothing else. */
export function mapBounds({ lines, zones, corridors, features }: SiteMapData): MapBounds {
  const own = boundsOf([
    ...lines.flatMap(({ pieces }) => pieces),
    ...zones.flatMap(({ rings }) => rings),
    ...corridors.flatMap(({ rings }) => rings),
  ]);
  const bounds = own ?? boundsOf(features.flatMap(featurePoints)) ?? [0, 0, 0, 0];
  const [west, south, east, north] = bounds;
  const pad = Math.max(east - west, north - south) * 0.06;
  const across = Math.max(0, LEAST_SIDE_M - (east - west)) / 2 + pad;
  const up = Math.max(0, LEAST_SIDE_M - (north - south)) / 2 + pad;
  return [west - across, south - up, east + across, north + up];
}

export const featurePoints = ({ point, lines, rings }: MapFeature): readonly (readonly MapPoint[])[] => [
  ...(point ? [[point]] : []),
  ...lines,
  ...rings,
];

/** Bounds of all points; null without any. */
export function boundsOf(parts: readonly (readonly MapPoint[])[]): MapBounds | null {
  let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const part of parts) {
    for (const [x, y] of part) {
      west = Math.min(west, x);
      south = Math.min(south, y);
      east = Math.max(east, x);
      north = Math.max(north, y);
    }
  }
  return west <= east ? [west, south, east, north] : null;
}
