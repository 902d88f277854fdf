import type { Line, LocalGrid, Position, Reading } from '../survey/survey';
import { accuracyOf } from './accuracy';
import { toLonLat } from './crs';
import { joined, sharedScatter, type Vertex } from './joined';
import { SAME_CHAINAGE_M } from './known-of-line';
import { planeAround, type TrackOutcome } from './track';

/** Where several spacings were read at a station, a place nearer to an earlier one than this share of the usual step is that station again. */
const SAME_PLACE_SHARE = 0.25;

interface OwnPlace {
  readonly id: string;
  readonly x: number;
  readonly y: number;
  readonly sigmaM: number;
  readonly saidChainageM: number | null;
}

/**
 * The path through readings that brought their own places. Where all of them say their chainage, that is kept; else
 * they are walked in the order in which they stand and chainage follows, a place met again keeping its first chainage
 * (a table sorted by spacing walks its line many times).
 */
export function trackThroughReadings(line: Line, own: readonly Reading[], grids: readonly LocalGrid[]): TrackOutcome {
  const located: { reading: Reading; lon: number; lat: number }[] = [];
  for (const reading of own) {
    const place = toLonLat(reading.position as Position, grids);
    if (!place.ok) return { ok: false, controls: [], sentence: `Line ${line.name}: ${place.sentence}` };
    located.push({ reading, ...place.value });
  }
  const plane = planeAround(located);
  const places = located.map(({ reading, lon, lat }): OwnPlace => {
    const [x, y] = plane.toPlane(lon, lat);
    const { sigmaM } = accuracyOf(reading.position as Position);
    return { id: reading.id, x, y, sigmaM, saidChainageM: reading.midpoint_m ?? null };
  });
  const allSaid = places.every(({ saidChainageM }) => saidChainageM !== null);
  const hasLadders = own.some((reading) => reading.spacing_m);
  const { vertices, chainages } = allSaid ? bySaidChainage(places) : inWalkingOrder(places, hasLadders);
  if (vertices.length < 2) {
    return {
      ok: false,
      controls: [],
      sentence: `Line ${line.name} has only one place. A line needs readings at two places at least, or two placed points.`,
    };
  }
  const shape = joined({
    vertices,
    plane,
    height: [],
    elevations: [],
    horizontal: (value) => value,
    straights: vertices.slice(1).map((_, i) => i),
    stretch: 1,
    covarianceAt: sharedScatter(
      vertices,
      vertices.map(({ sigmaM }) => sigmaM),
    ),
  });
  return {
    ok: true,
    track: {
      ...shape,
      controls: [],
      accuracies: own.map((reading) => accuracyOf(reading.position as Position)),
      plane,
      fromM: (vertices[0] as Vertex).chainageM,
      toM: (vertices[vertices.length - 1] as Vertex).chainageM,
      bends: vertices.slice(1, -1).map((vertex) => vertex.chainageM),
      slopeBreaks: [],
      tapeGpsScale: null,
      tapeGpsScaleError95: null,
      disagreementM: null,
      unusedLegs: [],
      ownChainages: chainages,
    },
  };
}

interface OwnVertex extends Vertex {
  readonly sigmaM: number;
}

interface Walked {
  readonly vertices: readonly OwnVertex[];
  readonly chainages: ReadonlyMap<string, number>;
}

const vertexAt = (chainageM: number, { x, y, sigmaM }: OwnPlace): OwnVertex => ({
  chainageM,
  horizontalM: chainageM,
  x,
  y,
  sigmaM,
});

function bySaidChainage(places: readonly OwnPlace[]): Walked {
  const sorted = [...places].sort((p, q) => (p.saidChainageM ?? 0) - (q.saidChainageM ?? 0));
  const vertices: OwnVertex[] = [];
  const chainages = new Map<string, number>();
  for (const place of sorted) {
    const chainageM = place.saidChainageM ?? 0;
    chainages.set(place.id, chainageM);
    const before = vertices[vertices.length - 1];
    const apart = before ? Math.hypot(place.x - before.x, place.y - before.y) : Infinity;
    if (!before || (chainageM - before.chainageM > SAME_CHAINAGE_M && apart > SAME_CHAINAGE_M)) {
      vertices.push(vertexAt(chainageM, place));
    }
  }
  return { vertices, chainages };
}

function inWalkingOrder(places: readonly OwnPlace[], hasLadders: boolean): Walked {
  // Without spacings there are no ladders: a track that comes by a place again has another reading there, not a repeat.
  const reach = hasLadders ? Math.max(SAME_CHAINAGE_M, SAME_PLACE_SHARE * usualStepM(places)) : SAME_CHAINAGE_M;
  const vertices: OwnVertex[] = [];
  const chainages = new Map<string, number>();
  const cells = new Map<string, OwnVertex[]>();
  const cellOf = (x: number, y: number): readonly [number, number] => [Math.floor(x / reach), Math.floor(y / reach)];
  const nearby = (place: OwnPlace): OwnVertex | null => {
    if (!hasLadders) {
      const last = vertices[vertices.length - 1];
      return last && Math.hypot(place.x - last.x, place.y - last.y) <= reach ? last : null;
    }
    const [cx, cy] = cellOf(place.x, place.y);
    for (let i = cx - 1; i <= cx + 1; i += 1) {
      for (let j = cy - 1; j <= cy + 1; j += 1) {
        const found = cells.get(`${i},${j}`)?.find(({ x, y }) => Math.hypot(place.x - x, place.y - y) <= reach);
        if (found) return found;
      }
    }
    return null;
  };
  for (const place of places) {
    const same = nearby(place);
    if (same) {
      chainages.set(place.id, same.chainageM);
      continue;
    }
    const last = vertices[vertices.length - 1];
    const chainageM = last ? last.chainageM + Math.hypot(place.x - last.x, place.y - last.y) : 0;
    const vertex = vertexAt(chainageM, place);
    vertices.push(vertex);
    chainages.set(place.id, chainageM);
    const key = cellOf(place.x, place.y).join();
    cells.set(key, [...(cells.get(key) ?? []), vertex]);
  }
  return { vertices, chainages };
}

/** Median step between neighbours that are not at one place. */
function usualStepM(places: readonly OwnPlace[]): number {
  const steps: number[] = [];
  for (let i = 1; i < places.length; i += 1) {
    const p = places[i - 1] as OwnPlace;
    const q = places[i] as OwnPlace;
    const step = Math.hypot(q.x - p.x, q.y - p.y);
    if (step > SAME_CHAINAGE_M) steps.push(step);
  }
  steps.sort((p, q) => p - q);
  return steps[steps.length >> 1] ?? 0;
}
