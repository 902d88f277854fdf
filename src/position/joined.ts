import { type Covariance, circular, lengthwise, sum } from './covariance';
import type { LonLat, Plane } from './crs';
import { radius95OfCovariance } from './ellipse';
import { elevationAt, type Heights, heightAt } from './heights';
import { type LegPlaces, legPlacesOf, placeOnLeg } from './leg-places';
import { tapedVariance } from './tape-classes';

export interface Vertex {
  readonly chainageM: number;
  /** Chainage projected to the horizontal by the heights along the line. */
  readonly horizontalM: number;
  readonly x: number;
  readonly y: number;
}

/** A place and the radius that holds it with 95 %. */
export interface Placed extends LonLat {
  readonly uncertainty95M: number;
}

/** A place of a line with its scatter: east and north, m². */
export interface PlacedOnLine extends Placed {
  readonly covariance: Covariance;
}

export interface Shape {
  readonly vertices: readonly Vertex[];
  readonly plane: Plane;
  /** How the ground runs along the line. */
  readonly height: Heights;
  /** How high it lies; empty where only its run is known. */
  readonly elevations: Heights;
  readonly horizontal: (chainageM: number) => number;
  /** Of every stretch between vertices, which straight it is part of. */
  readonly straights: readonly number[];
  /** What a metre of the tape is on the ground, beyond the ends. */
  readonly stretch: number;
  /**
   * Scatter at a share of the stretch that ends at a vertex, and so many metres beyond it (positive past its end,
   * negative before its start).
   */
  covarianceAt(stretch: number, share: number, beyondM: number): Covariance;
}

export interface Joined {
  placeAt(chainageM: number): PlacedOnLine;
  elevationAt(chainageM: number): number | null;
  distanceM(fromChainageM: number, toChainageM: number): number;
  distanceToM(chainageM: number, place: LonLat): number;
}

interface PlaceOnStretch {
  readonly stretch: number;
  readonly share: number;
  readonly beyondM: number;
  readonly x: number;
  readonly y: number;
}

interface TapedStretch {
  readonly x: number;
  readonly y: number;
  readonly ux: number;
  readonly uy: number;
}

/** Vertices joined by straights. Neighbouring vertices differ in place and in chainage. */
export function joined({
  vertices,
  plane,
  height,
  elevations,
  horizontal,
  straights,
  stretch: metre,
  covarianceAt,
}: Shape): Joined {
  const flat = height.length === 0;
  /** The vertex at which the stretch with a chainage ends. */
  const stretchOf = (chainageM: number): number => {
    let low = 1;
    let high = vertices.length - 1;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (chainageM <= (vertices[middle] as Vertex).chainageM) high = middle;
      else low = middle + 1;
    }
    return low;
  };
  const taped = tapedShape(vertices, straights);

  const legPlaces: (LegPlaces | null | undefined)[] = [];
  const lonLatAt = (stretch: number, x: number, y: number): LonLat => {
    let places = legPlaces[stretch];
    if (places === undefined) {
      places = legPlacesOf(vertices[stretch - 1] as Vertex, vertices[stretch] as Vertex, plane);
      legPlaces[stretch] = places;
    }
    return places ? placeOnLeg(places, x, y) : plane.toLonLat(x, y);
  };

  const planeAt = (chainageM: number): PlaceOnStretch => {
    const stretch = stretchOf(chainageM);
    const p = vertices[stretch - 1] as Vertex;
    const q = vertices[stretch] as Vertex;
    const lengthM = q.horizontalM - p.horizontalM;
    const along = (flat ? chainageM : horizontal(chainageM)) - p.horizontalM;
    const t = along / lengthM;
    const beyondM = metre * (t > 1 ? along - lengthM : t < 0 ? along : 0);
    const share = Math.min(1, Math.max(0, t));
    // Beyond the controls the tape is trusted, not the stretch between two fixes.
    const { ux, uy } = taped[stretch - 1] as TapedStretch;
    return {
      stretch,
      share,
      beyondM,
      x: p.x + share * (q.x - p.x) + beyondM * ux,
      y: p.y + share * (q.y - p.y) + beyondM * uy,
    };
  };

  const tapedAt = (chainageM: number, stretch: number): readonly [number, number, number] => {
    const origin = taped[stretch - 1] as TapedStretch;
    const along = horizontal(chainageM) - (vertices[stretch - 1] as Vertex).horizontalM;
    return [origin.x + along * origin.ux, origin.y + along * origin.uy, heightAt(height, chainageM)];
  };

  return {
    placeAt(chainageM) {
      const { stretch, share, beyondM, x, y } = planeAt(chainageM);
      const { lon, lat } = lonLatAt(stretch, x, y);
      const covariance = covarianceAt(stretch, share, beyondM);
      return { lon, lat, covariance, uncertainty95M: radius95OfCovariance(covariance) };
    },
    elevationAt: (chainageM) => elevationAt(elevations, chainageM),
    distanceM(fromM, toM) {
      const i = stretchOf(fromM);
      const j = stretchOf(toM);
      if (flat && straights[i - 1] === straights[j - 1]) return Math.abs(toM - fromM);
      const p = tapedAt(fromM, i);
      const q = tapedAt(toM, j);
      return Math.hypot(q[0] - p[0], q[1] - p[1], q[2] - p[2]);
    },
    distanceToM(chainageM, place) {
      const { x, y } = planeAt(chainageM);
      const [qx, qy] = plane.toPlane(place.lon, place.lat);
      return Math.hypot(qx - x, qy - y);
    },
  };
}

/** The line as the tape has it: every stretch as long as taped, in the direction of the straight that it is part of. */
function tapedShape(vertices: readonly Vertex[], straights: readonly number[]): readonly TapedStretch[] {
  const ends = new Map<number, [first: number, last: number]>();
  straights.forEach((straight, i) => {
    const known = ends.get(straight);
    if (known) known[1] = i + 1;
    else ends.set(straight, [i, i + 1]);
  });
  const taped: TapedStretch[] = [];
  let [x, y] = [0, 0];
  straights.forEach((straight, i) => {
    const [first, last] = ends.get(straight) as [number, number];
    const dx = (vertices[last] as Vertex).x - (vertices[first] as Vertex).x;
    const dy = (vertices[last] as Vertex).y - (vertices[first] as Vertex).y;
    const length = Math.hypot(dx, dy);
    const [ux, uy] = [dx / length, dy / length];
    taped.push({ x, y, ux, uy });
    const tapedM = (vertices[i + 1] as Vertex).horizontalM - (vertices[i] as Vertex).horizontalM;
    x += ux * tapedM;
    y += uy * tapedM;
  });
  return taped;
}

/** For vertices that are taken as they are: their errors as shared, so that averaging takes nothing away. */
export function sharedScatter(
  vertices: readonly Vertex[],
  sigmasM: readonly number[],
): (stretch: number, share: number, beyondM: number) => Covariance {
  return (stretch, share, beyondM) => {
    const p = vertices[stretch - 1] as Vertex;
    const q = vertices[stretch] as Vertex;
    const length = Math.hypot(q.x - p.x, q.y - p.y);
    const t = share + beyondM / length;
    const sigma = Math.abs(1 - t) * (sigmasM[stretch - 1] as number) + Math.abs(t) * (sigmasM[stretch] as number);
    const off = beyondM === 0 ? share * (1 - share) * length : Math.abs(beyondM);
    return sum(circular(sigma), lengthwise((q.x - p.x) / length, (q.y - p.y) / length, tapedVariance(off, 0)));
  };
}
