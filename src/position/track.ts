import type { Line, LocalGrid, Reading } from '../survey/survey';
import { type Accuracy, accuracyOf, radius95M, sigmaOfRadius95 } from './accuracy';
import { type LonLat, localPlane, type Plane, toLonLat } from './crs';
import { elevationAt, type Heights, heightAt, heightsAlong, horizontalChainage } from './heights';
import { type LegPlaces, legPlacesOf, placeOnLeg } from './leg-places';

/** Relative standard deviation of a taped distance (common practice for a fibreglass tape on grass, no source). */
const TAPE_SIGMA = 0.003;
/** Controls at the same chainage within this are one place fixed twice. */
export const SAME_CHAINAGE_M = 0.005;
/** A resistivity line is not longer than this, and no control lies farther from the others. */
export const FARTHEST_M = 5000;

export interface Control {
  readonly id: string;
  readonly chainageM: number;
  readonly place: LonLat;
  readonly kind: string;
  readonly source: string | null;
  readonly elevationM: number | null;
  readonly sigmaM: number;
  readonly accuracySaid: boolean;
}

export interface Vertex {
  readonly chainageM: number;
  /** Chainage projected to the horizontal by the heights along the line. */
  readonly horizontalM: number;
  readonly x: number;
  readonly y: number;
  readonly sigmaM: number;
}

/** A place and the radius that holds it with 95 %. */
export interface Placed extends LonLat {
  readonly uncertainty95M: number;
}

/**
 * A line on the ground: chainage in, place out.
 * The shape (bends) comes from the controls, distances between electrodes come from the tape: a phone's fix is metres
 * off where probes stand metres apart.
 */
export interface Track {
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
  /** Length of the track through its controls over the taped length between them; null with own-position readings. */
  readonly tapeGpsScale: number | null;
  readonly tapeGpsScaleError95: number | null;
  /** Chainage of a reading that brought its own place, by reading id. */
  readonly ownChainages: ReadonlyMap<string, number>;
  placeAt(chainageM: number): Placed;
  elevationAt(chainageM: number): number | null;
  /** Straight distance between two electrodes of the line, metres, taken from tape, bends and heights. */
  distanceM(fromChainageM: number, toChainageM: number): number;
  /** Straight distance from an electrode of the line to a place off it, metres. */
  distanceToM(chainageM: number, place: LonLat): number;
}

export type TrackOutcome =
  | { readonly ok: true; readonly track: Track }
  | { readonly ok: false; readonly controls: readonly Control[]; readonly sentence: string };

/**
 * Places a line by its controls: two or more fixes with chainages.
 * Not placeable: fewer than two distinct controls, one that lies kilometres from the others, or two chainages at one
 * place; said in a sentence with what to do.
 */
export function trackThroughControls(
  line: Line,
  readings: readonly Reading[],
  grids: readonly LocalGrid[],
): TrackOutcome {
  const { controls, refusals } = controlsOf(line, grids);
  const refuse = (sentence: string): TrackOutcome => ({
    ok: false,
    controls,
    sentence: `Line ${line.name}${sentence}`,
  });
  if (refusals[0] !== undefined) return refuse(`: ${refusals[0]}`);
  if (controls.length === 0) return refuse(' has no placed point. Add two points with their chainages.');

  const plane = planeAround(controls.map((control) => control.place));
  const height = heightsAlong(line, controls);
  const horizontal = horizontalChainage(height);
  const merged = mergedVertices(controls, plane, horizontal);
  if (merged.length < 2) {
    return refuse(
      ' has only one placed point. Add a second point with its chainage, as far along the line as you can.',
    );
  }
  const stray = strayControl(controls, plane);
  if (stray) {
    return refuse(
      `: the point at ${stray.chainageM} m lies more than ${FARTHEST_M / 1000} km from the others. Check its coordinates: a sign, a digit, or longitude and latitude exchanged.`,
    );
  }
  const still = merged.find((vertex, i) => i > 0 && legLength(merged[i - 1] as Vertex, vertex) < 1e-3);
  if (still) {
    return refuse(
      ` has two different chainages at one place (one of them ${still.chainageM} m). Correct the place or the chainage of one.`,
    );
  }
  const vertices = widened(merged);
  const scale = tapeGpsScale(merged);
  const shape = joined({ vertices, plane, height, horizontal });
  return {
    ok: true,
    track: {
      ...shape,
      controls,
      accuracies: controls.map(({ sigmaM, accuracySaid }) => ({ sigmaM, said: accuracySaid })),
      plane,
      fromM: (vertices[0] as Vertex).chainageM,
      toM: (vertices[vertices.length - 1] as Vertex).chainageM,
      bends: vertices.slice(1, -1).map((vertex) => vertex.chainageM),
      slopeBreaks: height.map((point) => point.chainageM),
      tapeGpsScale: scale.scale,
      tapeGpsScaleError95: scale.error95,
      ownChainages: chainagesBeside(readings, vertices, plane, grids),
    },
  };
}

function controlsOf(line: Line, grids: readonly LocalGrid[]): { controls: Control[]; refusals: string[] } {
  const controls: Control[] = [];
  const refusals: string[] = [];
  for (const item of line.path) {
    if (item.kind !== 'fix' || item.retired) continue;
    const place = toLonLat(item.position, grids);
    if (!place.ok) {
      refusals.push(place.sentence);
      continue;
    }
    const { sigmaM, said } = accuracyOf(item.position);
    controls.push({
      id: item.id,
      chainageM: item.chainage_m,
      place: place.value,
      kind: 'fix',
      source: item.position.source ?? null,
      elevationM: item.position.elevation_m ?? null,
      sigmaM,
      accuracySaid: said,
    });
  }
  return { controls, refusals };
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

function strayControl(controls: readonly Control[], plane: Plane): Control | null {
  const at = controls.map(({ place }) => plane.toPlane(place.lon, place.lat));
  const [[firstX, firstY]] = at as [readonly [number, number]];
  // A line that fits round its first point has no stray; only one that does not is looked at pair by pair.
  if (at.every(([x, y]) => Math.hypot(x - firstX, y - firstY) <= FARTHEST_M)) return null;
  return (
    controls.find((_, i) => {
      const [x, y] = at[i] as readonly [number, number];
      const apart = at.map(([qx, qy]) => Math.hypot(qx - x, qy - y)).filter((_, k) => k !== i);
      return apart.length > 0 && !apart.some((distance) => distance <= FARTHEST_M);
    }) ?? null
  );
}

/** Controls in order of chainage, those at one chainage averaged by weight. */
function mergedVertices(
  controls: readonly Control[],
  plane: Plane,
  horizontal: (chainageM: number) => number,
): readonly Vertex[] {
  const sorted = [...controls].sort((p, q) => p.chainageM - q.chainageM);
  const groups: Control[][] = [];
  for (const control of sorted) {
    const group = groups[groups.length - 1];
    if (group && control.chainageM - (group[0] as Control).chainageM <= SAME_CHAINAGE_M) group.push(control);
    else groups.push([control]);
  }
  return groups.map((group) => {
    const at = group.map(({ place }) => plane.toPlane(place.lon, place.lat));
    const weights = group.map(({ sigmaM }) => 1 / sigmaM ** 2);
    const weight = weights.reduce((sum, w) => sum + w, 0);
    const x = at.reduce((sum, [px], i) => sum + (weights[i] as number) * px, 0) / weight;
    const y = at.reduce((sum, [, py], i) => sum + (weights[i] as number) * py, 0) / weight;
    const spreadM = Math.max(...at.map(([px, py]) => Math.hypot(px - x, py - y)));
    const { chainageM } = group[0] as Control;
    return {
      chainageM,
      horizontalM: horizontal(chainageM),
      x,
      y,
      // Not the standard error of a mean: fixes of one device share a bias that averaging cannot remove.
      sigmaM: Math.max(Math.min(...group.map(({ sigmaM }) => sigmaM)), sigmaOfRadius95(spreadM)),
    };
  });
}

const legLength = (p: Vertex, q: Vertex): number => Math.hypot(q.x - p.x, q.y - p.y);

/** Where two fixes and the tape between them disagree, one of them is off by that much, whatever it claims. */
function widened(vertices: readonly Vertex[]): readonly Vertex[] {
  const misfitsM = vertices.slice(1).map((q, i) => {
    const p = vertices[i] as Vertex;
    return Math.abs(legLength(p, q) - (q.horizontalM - p.horizontalM));
  });
  return vertices.map((vertex, i) => {
    const worst = Math.max(misfitsM[i - 1] ?? 0, misfitsM[i] ?? 0);
    return { ...vertex, sigmaM: Math.max(vertex.sigmaM, sigmaOfRadius95(worst)) };
  });
}

function tapeGpsScale(vertices: readonly Vertex[]): { scale: number; error95: number } {
  const first = vertices[0] as Vertex;
  const last = vertices[vertices.length - 1] as Vertex;
  const placed = vertices.slice(1).reduce((sum, q, i) => sum + legLength(vertices[i] as Vertex, q), 0);
  const taped = last.horizontalM - first.horizontalM;
  return { scale: placed / taped, error95: (1.96 * Math.hypot(first.sigmaM, last.sigmaM)) / taped };
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
    const length = legLength(p, q);
    const along = ((x - p.x) * (q.x - p.x) + (y - p.y) * (q.y - p.y)) / length ** 2;
    const t = Math.min(1, Math.max(0, along));
    const distance = Math.hypot(x - p.x - t * (q.x - p.x), y - p.y - t * (q.y - p.y));
    if (distance < best.distance) best = { distance, chainageM: p.chainageM + t * (q.chainageM - p.chainageM) };
  }
  return best.chainageM;
}

export interface Shape {
  readonly vertices: readonly Vertex[];
  readonly plane: Plane;
  readonly height: Heights;
  readonly horizontal: (chainageM: number) => number;
}

/** Vertices joined by straights. Neighbouring vertices differ in place and in chainage. */
export function joined({
  vertices,
  plane,
  height,
  horizontal,
}: Shape): Pick<Track, 'placeAt' | 'elevationAt' | 'distanceM' | 'distanceToM'> {
  const flat = height.length === 0;
  const legOf = (chainageM: number): number => {
    let low = 1;
    let high = vertices.length - 1;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (chainageM <= (vertices[middle] as Vertex).chainageM) high = middle;
      else low = middle + 1;
    }
    return low;
  };

  // The taped shape: every leg as long as the tape says, in the direction that its controls give.
  const taped: { x: number; y: number; ux: number; uy: number }[] = [];
  let x = 0;
  let y = 0;
  for (let i = 1; i < vertices.length; i += 1) {
    const p = vertices[i - 1] as Vertex;
    const q = vertices[i] as Vertex;
    const length = legLength(p, q);
    const ux = (q.x - p.x) / length;
    const uy = (q.y - p.y) / length;
    taped.push({ x, y, ux, uy });
    x += ux * (q.horizontalM - p.horizontalM);
    y += uy * (q.horizontalM - p.horizontalM);
  }

  const planeAt = (chainageM: number): readonly [x: number, y: number, sigmaM: number] => {
    const leg = legOf(chainageM);
    const p = vertices[leg - 1] as Vertex;
    const q = vertices[leg] as Vertex;
    const along = (flat ? chainageM : horizontal(chainageM)) - p.horizontalM;
    const t = along / (q.horizontalM - p.horizontalM);
    // Beyond the controls the tape is trusted, not the stretch between two fixes.
    const direction = taped[leg - 1] as (typeof taped)[number];
    const beyond = t > 1 ? along - (q.horizontalM - p.horizontalM) : t < 0 ? along : 0;
    const inside = Math.min(1, Math.max(0, t));
    // The errors of two controls are taken as shared, so interpolating between them averages nothing away.
    const fixed = Math.abs(1 - t) * p.sigmaM + Math.abs(t) * q.sigmaM;
    const tape = TAPE_SIGMA * Math.min(Math.abs(along), Math.abs(q.horizontalM - p.horizontalM - along));
    return [
      p.x + inside * (q.x - p.x) + beyond * direction.ux,
      p.y + inside * (q.y - p.y) + beyond * direction.uy,
      Math.hypot(fixed, tape),
    ];
  };

  const legPlaces: (LegPlaces | null | undefined)[] = [];
  const lonLatAt = (chainageM: number, px: number, py: number): LonLat => {
    const leg = legOf(chainageM);
    let places = legPlaces[leg];
    if (places === undefined) {
      places = legPlacesOf(vertices[leg - 1] as Vertex, vertices[leg] as Vertex, plane);
      legPlaces[leg] = places;
    }
    return places ? placeOnLeg(places, px, py) : plane.toLonLat(px, py);
  };

  const tapedAt = (chainageM: number, leg: number): readonly [number, number, number] => {
    const origin = taped[leg - 1] as (typeof taped)[number];
    const along = horizontal(chainageM) - (vertices[leg - 1] as Vertex).horizontalM;
    return [origin.x + along * origin.ux, origin.y + along * origin.uy, heightAt(height, chainageM)];
  };

  return {
    placeAt(chainageM) {
      const [px, py, sigmaM] = planeAt(chainageM);
      const { lon, lat } = lonLatAt(chainageM, px, py);
      return { lon, lat, uncertainty95M: radius95M(sigmaM) };
    },
    elevationAt: (chainageM) => elevationAt(height, chainageM),
    distanceM(fromM, toM) {
      const i = legOf(fromM);
      const j = legOf(toM);
      if (flat && i === j) return Math.abs(toM - fromM);
      const p = tapedAt(fromM, i);
      const q = tapedAt(toM, j);
      return Math.hypot(q[0] - p[0], q[1] - p[1], q[2] - p[2]);
    },
    distanceToM(chainageM, place) {
      const [px, py] = planeAt(chainageM);
      const [qx, qy] = plane.toPlane(place.lon, place.lat);
      return Math.hypot(qx - px, qy - py);
    },
  };
}
