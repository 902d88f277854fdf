import type { Feature, FeatureCollection, Position } from 'geojson';
import { localPlane } from '../../src/position/crs';
import { geodesicDistanceM } from '../../src/position/geodesic';

/*
 * Attackers who have nothing but the texts of a share, and know how this program works: which squares places are shown
 * by, how near nothing is shown, that surveyors begin lines at entrances, that zones and setbacks lie round what is there.
 */

export interface Place {
  readonly lon: number;
  readonly lat: number;
}
export interface Evidence {
  /** The squares that shares show the entrance by: middle and half diagonal. */
  readonly squares: readonly { readonly middle: Place; readonly reachM: number }[];
  /** What points at an entrance: ends of lines, where they run to, middles of zones and setbacks, features, numbers in texts. */
  readonly pointers: readonly Place[];
  /** Everything whose coordinates are told. */
  readonly shown: readonly (readonly Place[])[];
  /** Distances from places on lines, as doubts tell them. */
  readonly ranges: readonly { readonly from: Place; readonly distanceM: number }[];
}

const positionsOf = (value: unknown): Position[] => {
  if (!Array.isArray(value)) return [];
  if (typeof value[0] === 'number') return [value as Position];
  return value.flatMap(positionsOf);
};
export const placesOf = ({ geometry }: Pick<Feature, 'geometry'>): Place[] =>
  'coordinates' in geometry ? positionsOf(geometry.coordinates).map(([lon = 0, lat = 0]) => ({ lon, lat })) : [];
export const meanOf = (places: readonly Place[]): Place => ({
  lon: places.reduce((sum, { lon }) => sum + lon, 0) / places.length,
  lat: places.reduce((sum, { lat }) => sum + lat, 0) / places.length,
});
export const featuresIn = (texts: readonly string[]): readonly Feature[] =>
  texts
    .map((text) => JSON.parse(text) as Partial<FeatureCollection>)
    .flatMap((layer) => (layer.type === 'FeatureCollection' ? (layer.features ?? []) : []));

/** Reads a share as a stranger with a purpose would. */
export function evidenceIn(texts: readonly string[]): Evidence {
  const features = featuresIn(texts);
  const isSquare = ({ properties }: Feature): boolean =>
    properties?.type === 'cave_entrance' && properties.position_uncertainty_95_m > 50;
  const squares = features.filter(isSquare).flatMap((each) => {
    const [middle] = placesOf(each);
    return middle ? [{ middle, reachM: each.properties?.position_uncertainty_95_m as number }] : [];
  });
  const others = features.filter((each) => !isSquare(each));
  const pointers = others.flatMap((each) => {
    const places = placesOf(each);
    const { first, last } = { first: places[0], last: places[places.length - 1] };
    if (!first || !last) return [];
    if (each.properties?.verdict || each.properties?.distance_m) return [meanOf(places)];
    if (each.geometry.type !== 'MultiLineString') return each.properties?.type ? [first] : [];
    // The ends, and where the line would come to if it went on.
    const on = (from: Place, to: Place, share: number): Place => ({
      lon: to.lon + share * (to.lon - from.lon),
      lat: to.lat + share * (to.lat - from.lat),
    });
    return [0, 0.5, 1, 1.5].flatMap((share) => [on(last, first, share), on(first, last, share)]);
  });
  const said = texts.flatMap((text) =>
    [...text.matchAll(/(-?\d{1,3}\.\d{4,6}), (-?\d{1,3}\.\d{4,6})/g)].map(([, lat, lon]) => ({
      lon: Number(lon),
      lat: Number(lat),
    })),
  );
  return {
    squares,
    pointers: [...pointers, ...said],
    shown: others
      .filter(({ properties }) => !properties?.half_width_m && !properties?.verdict && !properties?.distance_m)
      .map(placesOf),
    ranges: rangesIn(texts),
  };
}

/** "an opening lies 12.3 m from the line at 6 m": a circle about a place of that line. */
function rangesIn(texts: readonly string[]): Evidence['ranges'] {
  return texts.flatMap((text) => {
    const { findings } = JSON.parse(text) as {
      findings?: {
        doubts: { line: string | null; sentence: string }[];
        lines: { lineId: string; track: ({ chainageM: number } & Place)[] }[];
      };
    };
    return (findings?.doubts ?? []).flatMap(({ line, sentence }) => {
      const told = /lies ([\d.]+) m from the line at (-?[\d.]+) m/.exec(sentence);
      const track = findings?.lines.find(({ lineId }) => lineId === line)?.track;
      const [first, last] = [track?.[0], track?.[track.length - 1]];
      if (!told || !first || !last) return [];
      const share = (Number(told[2]) - first.chainageM) / (last.chainageM - first.chainageM);
      const from = { lon: first.lon + share * (last.lon - first.lon), lat: first.lat + share * (last.lat - first.lat) };
      return [{ from, distanceM: Number(told[1]) }];
    });
  });
}

export type Attack = (evidence: Evidence) => Place | null;

/** The middle of the smallest of the squares: what anybody would say. */
export const middle: Attack = ({ squares }) => [...squares].sort((p, q) => p.reachM - q.reachM)[0]?.middle ?? null;

/** Where most things point to, within the square where there is one. */
export const votes: Attack = (evidence) => {
  const { squares, pointers } = evidence;
  const within = pointers.filter((place) =>
    squares.every((square) => geodesicDistanceM(place, square.middle) < square.reachM),
  );
  const best = within
    .map((place) => ({ place, votes: within.filter((other) => geodesicDistanceM(place, other) < 40).length }))
    .sort((p, q) => q.votes - p.votes)[0];
  return best?.place ?? middle(evidence);
};

/** By the circles that distances in texts draw. */
export const circles: Attack = (evidence) => {
  const { ranges, squares } = evidence;
  const [first] = ranges;
  if (!first) return middle(evidence);
  const plane = localPlane(first.from.lon, first.from.lat);
  const tried = Array.from({ length: 72 }, (_, i) => {
    const angle = (i * Math.PI) / 36;
    return plane.toLonLat(first.distanceM * Math.sin(angle), first.distanceM * Math.cos(angle));
  });
  const misfit = (place: Place): number =>
    ranges.reduce((sum, { from, distanceM }) => sum + Math.abs(geodesicDistanceM(from, place) - distanceM), 0) +
    squares.reduce((sum, square) => sum + Math.max(0, geodesicDistanceM(place, square.middle) - square.reachM), 0);
  return tried.sort((p, q) => misfit(p) - misfit(q))[0] ?? null;
};

/**
 * Nothing is shown near an entrance, so it is not near anything that is shown: the disc that holds most of what is left of
 * the square, and of all squares together. Knows the radius.
 */
export const whatIsLeft =
  (radiusM: number, gridM: number): Attack =>
  (evidence) => {
    const from = middle(evidence);
    const square = evidence.squares.find((each) => each.middle === from);
    if (!from || !square) return null;
    const plane = localPlane(from.lon, from.lat);
    const shown = evidence.shown
      .map((places) => places.map(({ lon, lat }) => plane.toPlane(lon, lat)))
      .flatMap((points) => points.map((point, i) => [point, points[i + 1] ?? point] as const));
    const others = evidence.squares.filter((each) => each !== square);
    const n = 16;
    const left = Array.from({ length: n * n }, (_, i): readonly [number, number] => [
      ((i % n) + 0.5 - n / 2) * (gridM / n),
      (Math.floor(i / n) + 0.5 - n / 2) * (gridM / n),
    ]).filter(([x, y]) => {
      const near = shown.some(([[px, py], [qx, qy]]) => {
        const [dx, dy] = [qx - px, qy - py];
        const square = dx * dx + dy * dy;
        const along = square > 0 ? Math.min(1, Math.max(0, ((x - px) * dx + (y - py) * dy) / square)) : 0;
        return Math.hypot(px + along * dx - x, py + along * dy - y) < radiusM;
      });
      if (near) return false;
      return others.every((each) => geodesicDistanceM(plane.toLonLat(x, y), each.middle) < each.reachM);
    });
    const reach = gridM / 5;
    let best: { readonly at: readonly [number, number]; readonly count: number } | null = null;
    for (const at of left) {
      let count = 0;
      for (const [x, y] of left) if (Math.hypot(x - at[0], y - at[1]) < reach) count += 1;
      // Of equal discs the one nearest to the middle: it lies in the square whole.
      if (!best || count > best.count) best = { at, count };
    }
    if (!best) return from;
    return plane.toLonLat(best.at[0], best.at[1]);
  };
