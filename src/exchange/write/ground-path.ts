import type { TrackVertex } from '../../findings';
import { localPlane, type Plane } from '../../position/crs';
import { type Coordinate, coordinate, rounded } from './coordinate';

/** The path of a line over the ground: cut a piece out of it by chainage, with exactly its bends. */
export interface GroundPath {
  readonly plane: Plane;
  /** Corners from one chainage to another, in the plane; the ends may lie beyond those of the line. */
  cut(fromM: number, toM: number): readonly (readonly [x: number, y: number])[];
}

export function groundPath(track: readonly TrackVertex[]): GroundPath {
  const [first] = track as readonly [TrackVertex];
  const plane = localPlane(first.lon, first.lat);
  const points = track.map(({ chainageM, lon, lat, corner }) => ({ chainageM, at: plane.toPlane(lon, lat), corner }));

  const at = (chainageM: number): readonly [number, number] => {
    let i = 1;
    let high = points.length - 1;
    while (i < high) {
      const middle = (i + high) >> 1;
      if (chainageM <= (points[middle] as (typeof points)[number]).chainageM) high = middle;
      else i = middle + 1;
    }
    const p = points[i - 1] as (typeof points)[number];
    const q = points[i] as (typeof points)[number];
    const t = (chainageM - p.chainageM) / (q.chainageM - p.chainageM);
    return [p.at[0] + t * (q.at[0] - p.at[0]), p.at[1] + t * (q.at[1] - p.at[1])];
  };

  return {
    plane,
    cut(fromM, toM) {
      const inside: (readonly [number, number])[] = [];
      let low = 0;
      let high = points.length;
      while (low < high) {
        const middle = (low + high) >> 1;
        if ((points[middle] as (typeof points)[number]).chainageM <= fromM) low = middle + 1;
        else high = middle;
      }
      for (let i = low; i < points.length; i += 1) {
        const point = points[i] as (typeof points)[number];
        if (point.chainageM >= toM) break;
        if (point.corner) inside.push(point.at);
      }
      return [at(fromM), ...inside, at(toM)];
    },
  };
}

/**
 * A path in longitude and latitude, cut where it crosses 180° (RFC 7946, 3.1.9). Neighbouring vertices that round to
 * the same place are written once; a piece of no length is left out.
 */
export function cutAtAntimeridian(path: readonly { readonly lon: number; readonly lat: number }[]): Coordinate[][] {
  const pieces: Coordinate[][] = [];
  let piece: Coordinate[] = [];
  const push = (point: Coordinate): void => {
    const last = piece[piece.length - 1];
    if (!last || last[0] !== point[0] || last[1] !== point[1]) piece.push(point);
  };
  path.forEach((point, i) => {
    const before = path[i - 1];
    if (before && Math.abs(point.lon - before.lon) > 180) {
      const side = before.lon > 0 ? 180 : -180;
      const beyond = point.lon + 2 * side;
      const t = (side - before.lon) / (beyond - before.lon || 1);
      const lat = rounded(before.lat + t * (point.lat - before.lat));
      push([side, lat]);
      pieces.push(piece);
      piece = [[-side, lat]];
    }
    push(coordinate(point));
  });
  pieces.push(piece);
  return pieces.filter((candidate) => candidate.length >= 2);
}
