import { done, type Outcome } from '../survey/outcome';
import type { TrueBearing } from './bearings';
import { levelled } from './by-bearing';
import { planeConvergenceDeg } from './convergence';
import { type Covariance, circular, elongated, scaled, sum, type UncertainPlace } from './covariance';
import { localPlane, type Plane } from './crs';

const RADIANS = Math.PI / 180;

export interface TraverseLeg {
  readonly bearing: TrueBearing;
  /** Along the ground, metres. */
  readonly distanceM: number;
  /** Upwards positive; null where nobody measured it. */
  readonly slopeDeg: number | null;
}

export interface TraverseVertex extends UncertainPlace {
  /** Level distance walked since the start. */
  readonly walkedM: number;
  /** Height over the start; null from the first leg without a slope on. */
  readonly riseM: number | null;
}

export interface Closure {
  /** What the legs give minus what is known, metres. */
  readonly eastM: number;
  readonly northM: number;
  readonly misclosureM: number;
  /** Level length of all legs. */
  readonly perimeterM: number;
  /** The n of 1:n; null for a traverse that closes exactly. */
  readonly ratio: number | null;
  /** Height given by the legs minus the known one; null where slopes or heights are missing. */
  readonly riseM: number | null;
  /** Misclosure over its standard deviation as the bearings and the tape let expect it: over 3 is a mistake. */
  readonly sigmas: number;
}

export interface Traverse {
  /** The start and the end of every leg, before any adjustment. */
  readonly vertices: readonly TraverseVertex[];
}

export interface ClosedTraverse extends Traverse {
  readonly closure: Closure;
  /** The same vertices after the compass rule; the last is the known end. */
  readonly adjusted: readonly TraverseVertex[];
}

/** Where a traverse has to end: at its own start, or at a place known otherwise. */
export type KnownEnd = 'start' | (UncertainPlace & { readonly riseM?: number | null });

interface Walk {
  readonly plane: Plane;
  readonly points: readonly {
    readonly x: number;
    readonly y: number;
    readonly walkedM: number;
    readonly riseM: number | null;
    /** Of the legs so far, what is new in each of them: without the start and without the shared bearing error. */
    readonly own: Covariance;
  }[];
  /** Standard deviation of what all bearings share, radians. */
  readonly sharedSigma: number;
}

function walk(start: UncertainPlace, legs: readonly TraverseLeg[]): Outcome<Walk> {
  const plane = localPlane(start.lon, start.lat);
  let at: Walk['points'][number] = { x: 0, y: 0, walkedM: 0, riseM: 0, own: circular(0) };
  const points = [at];
  for (const { bearing, distanceM, slopeDeg } of legs) {
    const level = levelled({ distanceM, slopeDeg });
    if (!level.ok) return level;
    const { horizontalM, horizontalSigmaM, riseM } = level.value;
    const azimuth = bearing.azimuthDeg - planeConvergenceDeg(plane, at.x, at.y);
    at = {
      x: at.x + horizontalM * Math.sin(azimuth * RADIANS),
      y: at.y + horizontalM * Math.cos(azimuth * RADIANS),
      walkedM: at.walkedM + horizontalM,
      riseM: at.riseM === null || riseM === null ? null : at.riseM + riseM,
      own: sum(at.own, elongated(azimuth, horizontalSigmaM, bearing.readingSigmaDeg * RADIANS * horizontalM)),
    };
    points.push(at);
  }
  const sharedSigma = Math.max(0, ...legs.map(({ bearing }) => bearing.sharedSigmaDeg * RADIANS));
  return done({ plane, points, sharedSigma });
}

/** What a common turn of all bearings by one radian does to a vector, as a covariance. */
const turned = (x: number, y: number): Covariance => ({ xx: y * y, xy: -x * y, yy: x * x });

/**
 * Places the vertices of a tape-and-compass traverse that nothing closes: every leg adds its own errors, and the error
 * of the declination turns all of them together.
 * Refusals: those of `levelled`.
 */
export function openTraverse(start: UncertainPlace, legs: readonly TraverseLeg[]): Outcome<Traverse> {
  const walked = walk(start, legs);
  return walked.ok ? done({ vertices: unadjusted(walked.value, start) }) : walked;
}

function unadjusted({ plane, points, sharedSigma }: Walk, start: UncertainPlace): readonly TraverseVertex[] {
  return points.map(({ x, y, walkedM, riseM, own }) => ({
    ...plane.toLonLat(x, y),
    walkedM,
    riseM,
    covariance: sum(start.covariance, own, scaled(turned(x, y), sharedSigma ** 2)),
  }));
}

/**
 * The same with a known end: the misclosure, and the vertices after the compass (Bowditch) rule, which moves every
 * vertex back by the misclosure in proportion to the distance walked. It is the least-squares solution where the
 * variance of a leg grows with its length alike in all directions.
 */
export function closedTraverse(
  start: UncertainPlace,
  legs: readonly TraverseLeg[],
  end: KnownEnd,
): Outcome<ClosedTraverse> {
  const walked = walk(start, legs);
  if (!walked.ok) return walked;
  const { plane, points, sharedSigma } = walked.value;
  const last = points[points.length - 1] as Walk['points'][number];
  const [knownX, knownY] = end === 'start' ? [0, 0] : plane.toPlane(end.lon, end.lat);
  const eastM = last.x - knownX;
  const northM = last.y - knownY;
  const misclosureM = Math.hypot(eastM, northM);
  const perimeterM = last.walkedM;
  const knownRiseM = end === 'start' ? 0 : (end.riseM ?? null);
  const riseM = last.riseM === null || knownRiseM === null ? null : last.riseM - knownRiseM;

  const endsCovariance = end === 'start' ? circular(0) : sum(start.covariance, end.covariance);
  const expected = sum(endsCovariance, last.own, scaled(turned(last.x, last.y), sharedSigma ** 2));
  const closure: Closure = {
    eastM,
    northM,
    misclosureM,
    perimeterM,
    ratio: misclosureM > 0 && perimeterM > 0 ? perimeterM / misclosureM : null,
    riseM,
    sigmas: inSigmas(eastM, northM, expected),
  };

  const adjusted = points.map((point): TraverseVertex => {
    const share = perimeterM > 0 ? point.walkedM / perimeterM : 0;
    const x = point.x - share * eastM;
    const y = point.y - share * northM;
    // Of the legs: before the vertex with weight 1 - share, behind it with -share.
    const [before, behind] = [(1 - share) ** 2, share ** 2];
    const anchors =
      end === 'start' ? start.covariance : sum(scaled(start.covariance, before), scaled(end.covariance, behind));
    return {
      ...plane.toLonLat(x, y),
      walkedM: point.walkedM,
      riseM: point.riseM === null || riseM === null ? point.riseM : point.riseM - share * riseM,
      covariance: sum(
        anchors,
        scaled(point.own, before - behind),
        scaled(last.own, behind),
        scaled(turned(point.x - share * last.x, point.y - share * last.y), sharedSigma ** 2),
      ),
    };
  });
  return done({ vertices: unadjusted(walked.value, start), closure, adjusted });
}

/** Length of a vector in units of its own standard deviation (Mahalanobis). */
function inSigmas(x: number, y: number, { xx, xy, yy }: Covariance): number {
  const determinant = xx * yy - xy * xy;
  if (determinant <= 0) return x === 0 && y === 0 ? 0 : Number.POSITIVE_INFINITY;
  return Math.sqrt((yy * x * x - 2 * xy * x * y + xx * y * y) / determinant);
}
