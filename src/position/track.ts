import type { Line, LocalGrid, Reading } from '../survey/survey';
import type { Accuracy } from './accuracy';
import { type Anchor, anchorsOf, type Surroundings } from './anchors';
import { type LonLat, localPlane, type Plane, toLonLat } from './crs';
import type { Fit } from './fit-line';
import { fittedScatter } from './fitted-scatter';
import { heightsAlong, heightsOfLegs, horizontalChainage } from './heights';
import { type Joined, joined, type Vertex } from './joined';
import { lineData, nodesOf } from './known-of-line';
import { directionsOf, planeLegs } from './leg-vectors';
import type { LineData, Node } from './line-data';
import { type LineShape, lineShape } from './line-shape';
import { sigmasOf } from './normal';

/** A resistivity line is not longer than this, and no control lies farther from the others. */
export const FARTHEST_M = 5000;

/** A placed point of a line, and how it agrees with everything else that is known of the line. */
export interface Control extends Anchor {
  /** Distance from where the other controls, the tape and the legs put it; null where they say nothing. */
  readonly residualM: number | null;
  /** The same in its own standard deviations: as rare as so many sigmas of one normal number. */
  readonly residualSigma: number | null;
  /** Whether it contradicts the others so much that the line hardly listens to it. */
  readonly gross: boolean;
}

/**
 * A line on the ground: chainage in, place out.
 * Fixes, tape and legs are fitted together by least squares: the tape gives the distances, fixes give where and which
 * way. Distances between electrodes are the tape's alone: a phone's fix is metres off where probes stand metres apart.
 */
export interface Track extends Joined {
  readonly controls: readonly Control[];
  readonly plane: Plane;
  readonly fromM: number;
  readonly toM: number;
  /** How sure each of the places is that the line runs through. */
  readonly accuracies: readonly Accuracy[];
  /** Chainages of the corners between the ends. */
  readonly bends: readonly number[];
  /** Chainages between the ends where the slope changes. */
  readonly slopeBreaks: readonly number[];
  /** What the fixes make of a metre of the tape, without believing the tape; null where they say nothing of it. */
  readonly tapeGpsScale: number | null;
  readonly tapeGpsScaleError95: number | null;
  /** By how many metres fixes and tape contradict each other with nothing to tell which is wrong; null = they agree. */
  readonly disagreementM: number | null;
  /** Sentences about legs that could not be used. */
  readonly unusedLegs: readonly string[];
  /** Chainage of a reading that brought its own place, by reading id. */
  readonly ownChainages: ReadonlyMap<string, number>;
}

export type TrackOutcome =
  | { readonly ok: true; readonly track: Track }
  | { readonly ok: false; readonly controls: readonly Anchor[]; readonly sentence: string };

/**
 * Places a line by its controls and legs: two or more fixes with chainages, or one and a leg.
 * Not placeable: too few of them, one that lies kilometres from the others, or two chainages at one place; said in a
 * sentence with what to do.
 */
export function trackThroughControls(
  line: Line,
  readings: readonly Reading[],
  surroundings: Surroundings,
): TrackOutcome {
  const { grids } = surroundings;
  const { anchors, refusals } = anchorsOf(line, surroundings);
  const refuse = (sentence: string): TrackOutcome => ({
    ok: false,
    controls: anchors,
    sentence: `Line ${line.name}${sentence}`,
  });
  if (refusals[0] !== undefined) return refuse(`: ${refusals[0]}`);
  if (anchors.length === 0) return refuse(' has no placed point. Add two points with their chainages.');

  const plane = planeAround(anchors.map((anchor) => anchor.place));
  const at = anchors.map(({ place }) => plane.toPlane(place.lon, place.lat));
  const { legs, refusals: unusedLegs } =
    directionsOf(line).length > 0
      ? planeLegs(line, readings, plane, at[0] as readonly [number, number], grids)
      : NO_LEGS;
  const elevations = heightsAlong(line, anchors);
  const height = elevations.length > 0 ? elevations : heightsOfLegs(line);
  const horizontal = horizontalChainage(height);
  const nodes = nodesOf(anchors, legs, horizontal);
  if (nodes.length < 2) {
    const why = unusedLegs[0] === undefined ? '' : ` Not usable: ${unusedLegs[0]}`;
    return refuse(
      ` has only one placed point. Add a second point with its chainage, as far along the line as you can.${why}`,
    );
  }
  const stray = strayAnchor(anchors, at);
  if (stray) {
    return refuse(
      `: the point at ${stray.chainageM} m lies more than ${FARTHEST_M / 1000} km from the others. Check its coordinates: a sign, a digit, or longitude and latitude exchanged.`,
    );
  }
  const data = lineData({ anchors, at, legs, nodes, height });
  const still = sameTwice(data);
  if (still) {
    return refuse(
      ` has two different chainages at one place (one of them ${still.chainageM} m). Correct the place or the chainage of one.`,
    );
  }
  const corners = saidCorners(anchors, data);
  const shape = lineShape(data, corners);
  if (!shape) return refuse(' does not come out of its placed points and legs. Add a second point with its chainage.');

  const vertices = nodes.map(
    (node, k): Vertex => ({ ...node, x: shape.fit.x[k] as number, y: shape.fit.y[k] as number }),
  );
  const straights = shape.fit.runs.flatMap(([first, last], run) => new Array<number>(last - first).fill(run));
  const scale = tapeGpsScale(shape.fit, data);
  return {
    ok: true,
    track: {
      ...joined({
        vertices,
        plane,
        height,
        elevations,
        horizontal,
        straights,
        stretch: 1 + shape.fit.stretch,
        covarianceAt: fittedScatter(shape, data),
      }),
      controls: anchors.map((anchor, i) => asControl(anchor, i, shape)),
      accuracies: anchors.map(({ sigmaM, sharedSigmaM, own, accuracySaid }) => ({
        sigmaM,
        ownSigmaM: Math.sqrt(own.xx),
        sharedSigmaM,
        said: accuracySaid,
      })),
      plane,
      fromM: (nodes[0] as Node).chainageM,
      toM: (nodes[nodes.length - 1] as Node).chainageM,
      bends: shape.fit.runs.slice(1).map(([first]) => (nodes[first] as Node).chainageM),
      slopeBreaks: height.map((point) => point.chainageM),
      tapeGpsScale: scale?.scale ?? null,
      tapeGpsScaleError95: scale?.error95 ?? null,
      disagreementM: shape.disagreementM,
      unusedLegs,
      ownChainages: chainagesBeside(readings, vertices, plane, grids),
    },
  };
}

const NO_LEGS: ReturnType<typeof planeLegs> = { legs: [], refusals: [] };

function asControl(anchor: Anchor, i: number, { leftOver, gross }: LineShape): Control {
  const left = leftOver[i];
  const known = left && left.directions > 0;
  return {
    ...anchor,
    residualM: known ? left.distanceM : null,
    residualSigma: known ? sigmasOf(left.gain, left.directions) : null,
    gross: gross.has(i),
  };
}

/** Inner nodes at which the line turns for certain: the ends of its legs, and where somebody said so. */
function saidCorners(anchors: readonly Anchor[], { nodes, legs, fixes }: LineData): readonly number[] {
  const said = new Set<number>(legs.flatMap(({ from, to }) => [from, to]));
  fixes.forEach(({ node }, i) => {
    if (anchors[i]?.corner) said.add(node);
  });
  return [...said].filter((node) => node > 0 && node < nodes.length - 1);
}

/** A node with the same place as the one before it. */
function sameTwice({ nodes, fixes }: LineData): Node | null {
  const placed = [...fixes].sort((p, q) => p.node - q.node);
  const twice = placed.find(({ node, x, y }, i) => {
    const before = placed[i - 1];
    return before && before.node !== node && Math.hypot(x - before.x, y - before.y) < 1e-3;
  });
  return twice ? (nodes[twice.node] as Node) : null;
}

/** The stretch of the tape that the fixes alone ask for, with its own error: the fit without its prior knowledge of it. */
function tapeGpsScale(
  { stretch, stretchVariance, supposition }: Fit,
  { scaleSigma }: LineData,
): { scale: number; error95: number } | null {
  if (supposition.freeScale) return { scale: 1 + stretch, error95: 1.96 * Math.sqrt(stretchVariance) };
  const information = 1 / stretchVariance - 1 / scaleSigma ** 2;
  // The fixes say something when they say it to within the whole length.
  if (!(information > 1)) return null;
  return { scale: 1 + stretch / stretchVariance / information, error95: 1.96 / Math.sqrt(information) };
}

/** The plane of a line, centred on its places. */
export function planeAround(places: readonly LonLat[]): Plane {
  const first = places[0] as LonLat;
  // Means are taken round the first longitude, so that a line across 180° is not sent to the other side of the Earth.
  const unwrapped = places.map((place) => place.lon - 360 * Math.round((place.lon - first.lon) / 360));
  const lon = unwrapped.reduce((sum, value) => sum + value, 0) / places.length;
  const lat = places.reduce((sum, place) => sum + place.lat, 0) / places.length;
  return localPlane(lon - 360 * Math.round(lon / 360), lat);
}

function strayAnchor(anchors: readonly Anchor[], at: readonly (readonly [x: number, y: number])[]): Anchor | null {
  const [[firstX, firstY]] = at as [readonly [number, number]];
  // A line that fits round its first point has no stray; only one that does not is looked at pair by pair.
  if (at.every(([x, y]) => Math.hypot(x - firstX, y - firstY) <= FARTHEST_M)) return null;
  return (
    anchors.find((_, i) => {
      const [x, y] = at[i] as readonly [number, number];
      const apart = at.map(([qx, qy]) => Math.hypot(qx - x, qy - y)).filter((_, k) => k !== i);
      return apart.length > 0 && !apart.some((distance) => distance <= FARTHEST_M);
    }) ?? null
  );
}

/** Readings that brought a place but no chainage, on a line that has controls: the nearest chainage of the line. */
function chainagesBeside(
  readings: readonly Reading[],
  vertices: readonly Vertex[],
  plane: Plane,
  grids: readonly LocalGrid[],
): ReadonlyMap<string, number> {
  const chainages = new Map<string, number>();
  for (const { id, position, midpoint_m: midpointM, electrodes } of readings) {
    if (!position || electrodes || (midpointM !== null && midpointM !== undefined)) continue;
    const place = toLonLat(position, grids);
    if (place.ok) chainages.set(id, nearestChainage(plane.toPlane(place.value.lon, place.value.lat), vertices));
  }
  return chainages;
}

function nearestChainage([x, y]: readonly [number, number], vertices: readonly Vertex[]): number {
  let best = { distance: Infinity, chainageM: 0 };
  for (let i = 1; i < vertices.length; i += 1) {
    const p = vertices[i - 1] as Vertex;
    const q = vertices[i] as Vertex;
    const length = Math.hypot(q.x - p.x, q.y - p.y);
    const along = ((x - p.x) * (q.x - p.x) + (y - p.y) * (q.y - p.y)) / length ** 2;
    const t = Math.min(1, Math.max(0, along));
    const distance = Math.hypot(x - p.x - t * (q.x - p.x), y - p.y - t * (q.y - p.y));
    if (distance < best.distance) best = { distance, chainageM: p.chainageM + t * (q.chainageM - p.chainageM) };
  }
  return best.chainageM;
}
