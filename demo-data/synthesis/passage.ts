import type { Place, SurfaceElectrodes } from '../../src/ground/small-void';
import { type EmptyBody, emptyBody } from './empty-body';
import { type AxisPoint, crossingsOf, PASSAGE_AXIS, pegAt, type TrueLine } from './lines';
import { groundHeightM, PASSAGE_NODES, PASSAGE_RADIUS_M, type PlanPlace } from './truth';
import { tubeMesh } from './tube-mesh';

/** What the passage does to the readings of one line. */
export interface PassageUnderLine {
  /** ρa over uniform ground with the passage over ρa without it; electrodes at their true places. */
  ratio(electrodes: SurfaceElectrodes): number;
}

/** Meshes of 12 and 16 sides, of 8 and 12 for lines far off: what their corners are wrong by shrinks as 1/cut². */
const CUTS = [3, 4] as const;
const FAR_CUTS = [2, 3] as const;

const known = new Map<string, PassageUnderLine>();

/**
 * The whole bent passage as a line meets it, finest where it comes nearest. The ground is laid flat: at the slope that it
 * has at the crossing, lengths up that slope become tape lengths and depths become square to the ground. Lines that do
 * not cross are far off and are taken as level.
 */
export function passageUnder(line: TrueLine): PassageUnderLine {
  const made = known.get(line.name) ?? madeUnder(line, crossingsOf(line).length > 0 ? CUTS : FAR_CUTS);
  known.set(line.name, made);
  return made;
}

function madeUnder(line: TrueLine, cuts: readonly [number, number]): PassageUnderLine {
  const crossing = crossingsOf(line)[0];
  const flat = laidFlat(crossing?.place ?? null);
  const nearest = nearestTo(crossing?.place ?? middleOf(line));
  const depth = (place: PlanPlace, depthM: number): Place => {
    const [x, y] = flat.place(place);
    return [x, y, depthM * flat.cosine];
  };
  const axis = PASSAGE_NODES.map((node) => depth(node, node.depthM));
  const bodies = cuts.map((cut) => {
    return emptyBody(tubeMesh(axis, PASSAGE_RADIUS_M, { cut, finestAt: depth(nearest, nearest.depthM) }));
  }) as [EmptyBody, EmptyBody];
  const [coarse, fine] = cuts;
  const weight = fine ** 2 / (fine ** 2 - coarse ** 2);
  const moved = (place: Place | null): Place | null =>
    place && [...flat.place({ eastM: place[0], northM: place[1] }), 0];
  return {
    ratio({ a, b, m, n }) {
      const electrodes = { a: moved(a) as Place, b: moved(b), m: moved(m) as Place, n: moved(n) };
      const [first, second] = [bodies[0].ratio(electrodes), bodies[1].ratio(electrodes)];
      return first + weight * (second - first);
    },
  };
}

function middleOf(line: TrueLine): PlanPlace {
  const [eastM, northM] = pegAt(line, line.lengthM / 2);
  return { eastM, northM };
}

function nearestTo({ eastM, northM }: PlanPlace): AxisPoint {
  const awayM = (point: PlanPlace): number => Math.hypot(point.eastM - eastM, point.northM - northM);
  return PASSAGE_AXIS.reduce((best, point) => (awayM(point) < awayM(best) ? point : best));
}

/** To either side of a crossing over which its slope is taken, m. */
const SLOPE_OVER_M = 6;

interface FlatGround {
  /** Cosine of the slope's angle. */
  readonly cosine: number;
  place({ eastM, northM }: PlanPlace): readonly [xM: number, yM: number];
}

/** Ground of the even slope that it has at a place, laid level; from `null`, plan lengths as they are. */
function laidFlat(at: PlanPlace | null): FlatGround {
  if (!at) return { cosine: 1, place: ({ eastM, northM }) => [eastM, northM] };
  const rise = (east: number, north: number): number =>
    (groundHeightM({ eastM: at.eastM + east, northM: at.northM + north }) -
      groundHeightM({ eastM: at.eastM - east, northM: at.northM - north })) /
    (2 * SLOPE_OVER_M);
  const [perEast, perNorth] = [rise(SLOPE_OVER_M, 0), rise(0, SLOPE_OVER_M)];
  const slope = Math.hypot(perEast, perNorth);
  const [upEast, upNorth] = [perEast / slope, perNorth / slope];
  const stretch = Math.hypot(1, slope);
  return {
    cosine: 1 / stretch,
    place: ({ eastM, northM }) => {
      const longerM = (stretch - 1) * ((eastM - at.eastM) * upEast + (northM - at.northM) * upNorth);
      return [eastM + longerM * upEast, northM + longerM * upNorth];
    },
  };
}
