import geodesic from 'geographiclib-geodesic';
import type { Hookup } from '../../src/survey/hookup';
import { groundHeightM, ORIGIN, PASSAGE_NODES, type PlanPlace } from './truth';

/** A place on or under the ground: metres east, north, up. */
export type Place3 = readonly [eastM: number, northM: number, heightM: number];

export interface TrueLine {
  readonly name: string;
  readonly hookup: Hookup;
  readonly lengthM: number;
  readonly start: PlanPlace;
  /** Legs by true bearing, each up to a tape chainage. */
  readonly legs: readonly { readonly bearingDeg: number; readonly toM: number }[];
  /** Stations of a reference ladder; null = a station at every metre. */
  readonly stations: readonly number[] | null;
}

const straight = (bearingDeg: number, lengthM: number) => ({ lengthM, legs: [{ bearingDeg, toM: lengthM }] });

export const LINES: readonly TrueLine[] = [
  { name: 'A', hookup: 'pole_pole', start: { eastM: -19, northM: -4 }, ...straight(86, 36), stations: null },
  {
    name: 'B',
    hookup: 'pole_pole',
    start: { eastM: -19, northM: 12 },
    lengthM: 36,
    legs: [
      { bearingDeg: 74, toM: 13 },
      { bearingDeg: 102, toM: 36 },
    ],
    stations: null,
  },
  { name: 'C', hookup: 'pole_pole', start: { eastM: -14, northM: 28 }, ...straight(60, 36), stations: null },
  { name: 'D', hookup: 'pole_pole', start: { eastM: 46, northM: -48 }, ...straight(82, 36), stations: null },
  { name: 'E', hookup: 'wenner_alpha', start: { eastM: 65, northM: -80 }, ...straight(357, 60), stations: null },
  { name: 'T', hookup: 'two_probe', start: { eastM: -17, northM: -18 }, ...straight(96, 36), stations: null },
  {
    name: 'R1',
    hookup: 'pole_pole',
    start: { eastM: -75, northM: -16 },
    ...straight(4, 36),
    stations: [8, 13, 18, 23, 28],
  },
  {
    name: 'R2',
    hookup: 'two_probe',
    start: { eastM: -82, northM: -16 },
    ...straight(4, 36),
    stations: [8, 13, 18, 23, 28],
  },
  {
    name: 'R3',
    hookup: 'wenner_alpha',
    start: { eastM: -89, northM: -26 },
    ...straight(4, 56),
    stations: [18, 23, 28, 33, 38],
  },
];

export function lineNamed(name: string): TrueLine {
  const line = LINES.find((candidate) => candidate.name === name);
  if (!line) throw new Error(`no line ${name}`);
  return line;
}

const onGround = (eastM: number, northM: number): Place3 => [eastM, northM, groundHeightM({ eastM, northM })];

/** Pegs are set every half metre; the tape lies on the ground from peg to peg. */
const PEG_STEP_M = 0.5;
const pegsOf = new Map<string, readonly Place3[]>();

function pegs(line: TrueLine): readonly Place3[] {
  const known = pegsOf.get(line.name);
  if (known) return known;
  const places: Place3[] = [onGround(line.start.eastM, line.start.northM)];
  for (const leg of line.legs) {
    const bearing = (leg.bearingDeg * Math.PI) / 180;
    while (places.length - 1 < leg.toM / PEG_STEP_M) {
      const from = places[places.length - 1] as Place3;
      let flatM = PEG_STEP_M;
      let to = from;
      for (let i = 0; i < 5; i += 1) {
        to = onGround(from[0] + flatM * Math.sin(bearing), from[1] + flatM * Math.cos(bearing));
        flatM = Math.sqrt(PEG_STEP_M ** 2 - (to[2] - from[2]) ** 2);
      }
      places.push(to);
    }
  }
  pegsOf.set(line.name, places);
  return places;
}

/** True place of a peg by its tape chainage, a multiple of half a metre on the line. */
export function pegAt(line: TrueLine, chainageM: number): Place3 {
  const peg = pegs(line)[Math.round(chainageM / PEG_STEP_M)];
  if (!peg) throw new Error(`line ${line.name} has no peg at ${chainageM} m`);
  return peg;
}

/** Longitude and latitude on the WGS 84 ellipsoid of a place by its azimuth and distance from the origin. */
export function lonLatOf({ eastM, northM }: PlanPlace): { readonly lon: number; readonly lat: number } {
  const azimuthDeg = (Math.atan2(eastM, northM) * 180) / Math.PI;
  const there = geodesic.Geodesic.WGS84.Direct(ORIGIN.lat, ORIGIN.lon, azimuthDeg, Math.hypot(eastM, northM));
  return { lon: there.lon2 as number, lat: there.lat2 as number };
}

export interface AxisPoint extends PlanPlace {
  readonly depthM: number;
  readonly place: Place3;
}

/** The axis of the passage in pieces of about a metre; depths below the ground straight above. */
export const PASSAGE_AXIS: readonly AxisPoint[] = PASSAGE_NODES.flatMap((node, i) => {
  const next = PASSAGE_NODES[i + 1] ?? node;
  const pieces = Math.max(1, Math.round(Math.hypot(next.eastM - node.eastM, next.northM - node.northM)));
  return Array.from({ length: pieces }, (_, piece) => {
    const t = piece / pieces;
    const eastM = node.eastM + t * (next.eastM - node.eastM);
    const northM = node.northM + t * (next.northM - node.northM);
    const depthM = node.depthM + t * (next.depthM - node.depthM);
    return { eastM, northM, depthM, place: [eastM, northM, groundHeightM({ eastM, northM }) - depthM] };
  });
});

export interface Crossing {
  readonly line: string;
  readonly chainageM: number;
  readonly depthAxisM: number;
  /** Between line and passage in plan, 0–90°. */
  readonly angleDeg: number;
  readonly place: PlanPlace;
}

/** Where a line passes over the axis, in plan. */
export function crossingsOf(line: TrueLine): readonly Crossing[] {
  const found: Crossing[] = [];
  for (let chainageM = 0; chainageM < line.lengthM; chainageM += PEG_STEP_M) {
    const [px, py] = pegAt(line, chainageM);
    const [qx, qy] = pegAt(line, chainageM + PEG_STEP_M);
    for (const [i, from] of PASSAGE_AXIS.entries()) {
      const to = PASSAGE_AXIS[i + 1];
      if (!to) break;
      const [ux, uy] = [qx - px, qy - py];
      const [vx, vy] = [to.eastM - from.eastM, to.northM - from.northM];
      const cross = ux * vy - uy * vx;
      const t = ((from.eastM - px) * vy - (from.northM - py) * vx) / cross;
      const s = ((from.eastM - px) * uy - (from.northM - py) * ux) / cross;
      if (!(t >= 0 && t < 1 && s >= 0 && s < 1)) continue;
      found.push({
        line: line.name,
        chainageM: chainageM + t * PEG_STEP_M,
        depthAxisM: from.depthM + s * (to.depthM - from.depthM),
        angleDeg: (Math.asin(Math.abs(cross) / (Math.hypot(ux, uy) * Math.hypot(vx, vy))) * 180) / Math.PI,
        place: { eastM: px + t * ux, northM: py + t * uy },
      });
    }
  }
  return found;
}
