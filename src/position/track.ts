import type { Fix, Line, LocalGrid, Position, Reading } from '../survey/survey';
import { datumUncertaintyOf, type LonLat, localPlane, type Plane, toLonLat } from './crs';

/** A radius that holds 68 % of a circular normal scatter is this many standard deviations: √(−2 ln 0.32). */
const SIGMAS_IN_R68 = Math.sqrt(-2 * Math.log(1 - 0.68));
/** The same for 95 %: 2.4477. */
const SIGMAS_IN_R95 = Math.sqrt(-2 * Math.log(1 - 0.95));
/** A fix whose accuracy nobody wrote down is taken for a phone under trees: 95 % within 10 m (Tomastik et al. 2017). */
const UNSAID_R95_M = 10;
/** Relative standard deviation of a taped distance (common practice for a fibreglass tape on grass, no source). */
const TAPE_SIGMA = 0.003;
/** Heights that would make the tape run steeper than 45° are errors of the heights, not a slope. */
const STEEPEST_SLOPE = Math.SQRT1_2;
/** Controls at the same chainage within this are one place fixed twice. */
const SAME_CHAINAGE_M = 0.005;

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

interface Vertex {
  readonly chainageM: number;
  /** Chainage projected to the horizontal by the heights along the line. */
  readonly horizontalM: number;
  readonly x: number;
  readonly y: number;
  readonly sigmaM: number;
}

/** A point of a track: where it is, how sure, and where the tape alone puts it relative to the other points. */
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

/** Standard deviation per axis, metres, of a position as entered, its datum included; and whether it was said. */
export function sigmaOf(position: Position): { sigmaM: number; said: boolean } {
  const datumSigma = datumUncertaintyOf(position.crs) / SIGMAS_IN_R95;
  const accuracy = position.accuracy_m;
  // A radius without a level is taken for 68 %, the smaller claim.
  const said = accuracy !== undefined && accuracy !== null;
  const own = said
    ? accuracy / (position.accuracy_level === 95 ? SIGMAS_IN_R95 : SIGMAS_IN_R68)
    : UNSAID_R95_M / SIGMAS_IN_R95;
  return { sigmaM: Math.hypot(own, datumSigma), said };
}

/** 95 % radius in metres of a circular normal scatter with this standard deviation per axis. */
export const radius95M = (sigmaM: number): number => sigmaM * SIGMAS_IN_R95;

function controlsOf(line: Line, grids: readonly LocalGrid[]): { controls: Control[]; refusals: string[] } {
  const controls: Control[] = [];
  const refusals: string[] = [];
  for (const item of line.path) {
    if (item.kind !== 'fix' || item.retired) continue;
    const fix = item as Fix;
    const place = toLonLat(fix.position, grids);
    if (!place.ok) {
      refusals.push(place.sentence);
      continue;
    }
    const { sigmaM, said } = sigmaOf(fix.position);
    controls.push({
      id: fix.id,
      chainageM: fix.chainage_m,
      place: place.value,
      kind: 'fix',
      source: fix.position.source ?? null,
      elevationM: fix.position.elevation_m ?? null,
      sigmaM,
      accuracySaid: said,
    });
  }
  return { controls, refusals };
}

/**
 * Places a line by its controls: two or more fixes with chainages, or, when it has none, the path through the readings
 * that brought their own places, in the order in which they stand.
 * Not placeable: fewer than two distinct controls; said in a sentence with what to add.
 */
export function placeLine(line: Line, readings: readonly Reading[], grids: readonly LocalGrid[]): TrackOutcome {
  const { controls, refusals } = controlsOf(line, grids);
  if (controls.length === 0 && refusals.length === 0) {
    const own = readings.filter((reading) => reading.position && !reading.retired);
    if (own.length > 0) return trackThroughReadings(line, own, grids);
  }
  if (refusals[0] !== undefined) return { ok: false, controls, sentence: `Line ${line.name}: ${refusals[0]}` };

  const first = controls[0];
  const distinct = new Set(controls.map((control) => Math.round(control.chainageM / SAME_CHAINAGE_M)));
  if (!first || distinct.size < 2) {
    return {
      ok: false,
      controls,
      sentence: `Line ${line.name} has ${distinct.size === 0 ? 'no placed point' : 'only one placed point'}. Add a second point with its chainage, as far along the line as you can.`,
    };
  }
  const plane = planeAround(controls.map((control) => control.place));
  const height = heightsAlong(line, controls);
  const horizontal = horizontalChainage(height);
  const vertices = mergedVertices(controls, plane, horizontal);
  const last = vertices[vertices.length - 1] as Vertex;
  const start = vertices[0] as Vertex;
  const scale = tapeGpsScale(vertices);
  return {
    ok: true,
    track: {
      ...joined({ vertices, plane, height, horizontal }),
      controls,
      plane,
      fromM: start.chainageM,
      toM: last.chainageM,
      bends: vertices.slice(1, -1).map((vertex) => vertex.chainageM),
      slopeBreaks: height.slice(1, -1).map((point) => point.chainageM),
      tapeGpsScale: scale.scale,
      tapeGpsScaleError95: scale.error95,
      ownChainages: new Map(),
    },
  };
}

function planeAround(places: readonly LonLat[]): Plane {
  const first = places[0] as LonLat;
  // Means are taken round the first longitude, so that a line across 180° is not sent to the other side of the Earth.
  const unwrapped = places.map((place) => place.lon - 360 * Math.round((place.lon - first.lon) / 360));
  const lon = unwrapped.reduce((sum, value) => sum + value, 0) / places.length;
  const lat = places.reduce((sum, place) => sum + place.lat, 0) / places.length;
  return localPlane(lon - 360 * Math.round(lon / 360), lat);
}

/** Controls in order of chainage, those at one chainage averaged by weight. */
function mergedVertices(
  controls: readonly Control[],
  plane: Plane,
  horizontal: (chainageM: number) => number,
): readonly Vertex[] {
  const sorted = [...controls].sort((p, q) => p.chainageM - q.chainageM);
  const vertices: Vertex[] = [];
  for (let i = 0; i < sorted.length; ) {
    const head = sorted[i] as Control;
    let weight = 0;
    let x = 0;
    let y = 0;
    let best = Infinity;
    let j = i;
    for (; j < sorted.length; j += 1) {
      const control = sorted[j] as Control;
      if (control.chainageM - head.chainageM > SAME_CHAINAGE_M) break;
      const w = 1 / Math.max(control.sigmaM, 1e-3) ** 2;
      const [px, py] = plane.toPlane(control.place.lon, control.place.lat);
      weight += w;
      x += w * px;
      y += w * py;
      best = Math.min(best, control.sigmaM);
    }
    // Not the standard error of a mean: fixes of one device share a bias that averaging cannot remove.
    vertices.push({
      chainageM: head.chainageM,
      horizontalM: horizontal(head.chainageM),
      x: x / weight,
      y: y / weight,
      sigmaM: best,
    });
    i = j;
  }
  return vertices;
}

type Heights = readonly { readonly chainageM: number; readonly heightM: number }[];

/** The line's own profile, else the elevations of its controls; empty when fewer than two heights are known. */
function heightsAlong(line: Line, controls: readonly Control[]): Heights {
  const profile =
    line.profile.length >= 2
      ? line.profile.map((point) => ({ chainageM: point.chainage_m, heightM: point.height_m }))
      : controls.flatMap((control) =>
          control.elevationM === null ? [] : [{ chainageM: control.chainageM, heightM: control.elevationM }],
        );
  const sorted = [...profile].sort((p, q) => p.chainageM - q.chainageM);
  const distinct = sorted.filter((point, i) => i === 0 || point.chainageM > (sorted[i - 1]?.chainageM ?? 0));
  const walkable = distinct.every((point, i) => {
    const before = distinct[i - 1];
    return !before || Math.abs(point.heightM - before.heightM) <= STEEPEST_SLOPE * (point.chainageM - before.chainageM);
  });
  return distinct.length >= 2 && walkable ? distinct : [];
}

function interpolate(heights: Heights, chainageM: number): number | null {
  const count = heights.length;
  if (count < 2) return null;
  let i = 1;
  while (i < count - 1 && chainageM > (heights[i]?.chainageM ?? Infinity)) i += 1;
  const p = heights[i - 1] as Heights[number];
  const q = heights[i] as Heights[number];
  return p.heightM + ((chainageM - p.chainageM) / (q.chainageM - p.chainageM)) * (q.heightM - p.heightM);
}

/** Slope chainage to horizontal chainage: within each interval of heights the ground is an even slope. */
function horizontalChainage(heights: Heights): (chainageM: number) => number {
  const shares: { fromM: number; toM: number; share: number; startM: number }[] = [];
  let run = heights[0]?.chainageM ?? 0;
  for (let i = 1; i < heights.length; i += 1) {
    const p = heights[i - 1] as Heights[number];
    const q = heights[i] as Heights[number];
    const slope = (q.heightM - p.heightM) / (q.chainageM - p.chainageM);
    const share = Math.sqrt(Math.max(0, 1 - slope * slope));
    shares.push({ fromM: p.chainageM, toM: q.chainageM, share, startM: run });
    run += share * (q.chainageM - p.chainageM);
  }
  const first = shares[0];
  if (!first) return (chainageM) => chainageM;
  return (chainageM) => {
    const stretch = shares.find((candidate) => chainageM <= candidate.toM) ?? shares[shares.length - 1] ?? first;
    return stretch.startM + stretch.share * (chainageM - stretch.fromM);
  };
}

function tapeGpsScale(vertices: readonly Vertex[]): { scale: number; error95: number } {
  let placed = 0;
  for (let i = 1; i < vertices.length; i += 1) {
    const p = vertices[i - 1] as Vertex;
    const q = vertices[i] as Vertex;
    placed += Math.hypot(q.x - p.x, q.y - p.y);
  }
  const first = vertices[0] as Vertex;
  const last = vertices[vertices.length - 1] as Vertex;
  const taped = last.horizontalM - first.horizontalM;
  return { scale: placed / taped, error95: (1.96 * Math.hypot(first.sigmaM, last.sigmaM)) / taped };
}

interface Shape {
  readonly vertices: readonly Vertex[];
  readonly plane: Plane;
  readonly height: Heights;
  readonly horizontal: (chainageM: number) => number;
}

function joined({ vertices, plane, height, horizontal }: Shape) {
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
    const length = Math.hypot(q.x - p.x, q.y - p.y) || 1;
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
    return places ? onLeg(places, px, py) : plane.toLonLat(px, py);
  };

  return {
    placeAt(chainageM: number): Placed {
      const [px, py, sigmaM] = planeAt(chainageM);
      const { lon, lat } = lonLatAt(chainageM, px, py);
      return { lon, lat, uncertainty95M: radius95M(sigmaM) };
    },
    elevationAt: (chainageM: number) => interpolate(height, chainageM),
    distanceM(fromM: number, toM: number): number {
      const i = legOf(fromM);
      const j = legOf(toM);
      if (flat && i === j) return Math.abs(toM - fromM);
      const point = (chainageM: number, leg: number): readonly [number, number, number] => {
        const origin = taped[leg - 1] as (typeof taped)[number];
        const along = horizontal(chainageM) - (vertices[leg - 1] as Vertex).horizontalM;
        return [origin.x + along * origin.ux, origin.y + along * origin.uy, interpolate(height, chainageM) ?? 0];
      };
      const p = point(fromM, i);
      const q = point(toM, j);
      return Math.hypot(q[0] - p[0], q[1] - p[1], q[2] - p[2]);
    },
    distanceToM(chainageM: number, place: LonLat): number {
      const [px, py] = planeAt(chainageM);
      const [qx, qy] = plane.toPlane(place.lon, place.lat);
      return Math.hypot(qx - px, qy - py);
    },
  };
}

/** Longitude and latitude at the ends and the middle of a leg: between them a parabola is exact enough. */
interface LegPlaces {
  readonly start: Vertex;
  readonly dx: number;
  readonly dy: number;
  readonly lengthSquared: number;
  readonly lon: readonly [start: number, linear: number, square: number];
  readonly lat: readonly [start: number, linear: number, square: number];
}

/** What the parabola leaves out grows with the cube of the length over R²: under 0.01 mm for a leg of a kilometre. */
const LONGEST_PARABOLA_M = 1000;
/** Close to a pole longitude bends faster. */
const FARTHEST_PARABOLA_LAT = 75;

function legPlacesOf(p: Vertex, q: Vertex, plane: Plane): LegPlaces | null {
  const dx = q.x - p.x;
  const dy = q.y - p.y;
  const lengthSquared = dx * dx + dy * dy;
  const start = plane.toLonLat(p.x, p.y);
  if (lengthSquared === 0 || lengthSquared > LONGEST_PARABOLA_M ** 2) return null;
  if (Math.abs(start.lat) > FARTHEST_PARABOLA_LAT) return null;
  const middle = plane.toLonLat(p.x + dx / 2, p.y + dy / 2);
  const end = plane.toLonLat(q.x, q.y);
  if (Math.abs(end.lon - start.lon) > 1 || Math.abs(middle.lon - start.lon) > 1) return null;
  const through = (f0: number, f1: number, f2: number): LegPlaces['lon'] => [
    f0,
    4 * f1 - 3 * f0 - f2,
    2 * (f0 - 2 * f1 + f2),
  ];
  return {
    start: p,
    dx,
    dy,
    lengthSquared,
    lon: through(start.lon, middle.lon, end.lon),
    lat: through(start.lat, middle.lat, end.lat),
  };
}

/** A point on the straight of a leg, also somewhat beyond its ends. */
function onLeg({ start, dx, dy, lengthSquared, lon, lat }: LegPlaces, x: number, y: number): LonLat {
  const t = ((x - start.x) * dx + (y - start.y) * dy) / lengthSquared;
  return { lon: lon[0] + t * (lon[1] + t * lon[2]), lat: lat[0] + t * (lat[1] + t * lat[2]) };
}

function trackThroughReadings(line: Line, own: readonly Reading[], grids: readonly LocalGrid[]): TrackOutcome {
  const places: { id: string; place: LonLat; sigmaM: number }[] = [];
  for (const reading of own) {
    const position = reading.position as Position;
    const place = toLonLat(position, grids);
    if (!place.ok) return { ok: false, controls: [], sentence: `Line ${line.name}: ${place.sentence}` };
    places.push({ id: reading.id, place: place.value, sigmaM: sigmaOf(position).sigmaM });
  }
  const plane = planeAround(places.map((entry) => entry.place));
  const vertices: Vertex[] = [];
  const ownChainages = new Map<string, number>();
  let chainageM = 0;
  for (const { id, place, sigmaM } of places) {
    const [x, y] = plane.toPlane(place.lon, place.lat);
    const before = vertices[vertices.length - 1];
    if (before) chainageM += Math.hypot(x - before.x, y - before.y);
    ownChainages.set(id, chainageM);
    if (!before || chainageM - before.chainageM > SAME_CHAINAGE_M) {
      vertices.push({ chainageM, horizontalM: chainageM, x, y, sigmaM });
    }
  }
  if (vertices.length < 2) {
    return {
      ok: false,
      controls: [],
      sentence: `Line ${line.name} has only one place. A line needs readings at two places at least, or two placed points.`,
    };
  }
  const shape: Shape = { vertices, plane, height: [], horizontal: (value) => value };
  return {
    ok: true,
    track: {
      ...joined(shape),
      controls: [],
      plane,
      fromM: 0,
      toM: chainageM,
      bends: vertices.slice(1, -1).map((vertex) => vertex.chainageM),
      slopeBreaks: [],
      tapeGpsScale: null,
      tapeGpsScaleError95: null,
      ownChainages,
    },
  };
}
