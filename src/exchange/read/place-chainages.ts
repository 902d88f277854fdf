import { geodesicDistanceM } from '../../position/geodesic';
import type { Line } from '../../survey/survey';
import type { AssignedPoint } from './assign-places';
import type { PlaceLine, PlaceVertex } from './places-file';
import { roundOff } from './sheet';

/** Heights that rise more steeply are errors of the heights (sin 45°, as for every line). */
const STEEPEST = Math.SQRT1_2;

type Layout = NonNullable<Line['layout']>;

/** Chainages of planned electrodes. */
export function chainagesOfLayout(layout: Layout): readonly number[] {
  if ('chainages_m' in layout) return layout.chainages_m;
  const { from_m: fromM, to_m: toM, step_m: stepM } = layout;
  return Array.from({ length: Math.round((toM - fromM) / stepM) + 1 }, (_, i) => roundOff(fromM + i * stepM));
}

/**
 * Without a step: the electrodes in their order, each as far along as the way through them is long.
 */
export function measuredElectrodes(points: readonly AssignedPoint[]): ReadonlyMap<number, number> {
  const electrodes = points
    .flatMap(({ point, match }) => (match?.at.kind === 'electrode' ? [{ point, number: match.at.electrode }] : []))
    .sort((p, q) => p.number - q.number);
  const chainages = new Map<number, number>();
  let alongM = 0;
  electrodes.forEach(({ point, number }, i) => {
    const before = electrodes[i - 1];
    if (before && before.number !== number) alongM += geodesicDistanceM(before.point.lonLat, point.lonLat);
    if (!chainages.has(number)) chainages.set(number, roundMm(alongM));
  });
  return chainages;
}

export const roundMm = (lengthM: number): number => Math.round(lengthM * 1000) / 1000;

/**
 * Chainages from the first vertex on, on the ellipsoid, to the millimetre. Where every vertex of a drawn line has a height,
 * along the slope as a tape would: a line with heights is taken to have slope chainages.
 */
export function chainagesAlong({ vertices, kind }: PlaceLine): { readonly chainagesM: readonly number[] } {
  const legs = vertices.slice(1).map((vertex, i) => {
    const before = vertices[i] as PlaceVertex;
    const levelM = geodesicDistanceM(before.lonLat, vertex.lonLat);
    const riseM = (vertex.position.elevation_m ?? Number.NaN) - (before.position.elevation_m ?? Number.NaN);
    return { levelM, slopeM: Math.hypot(levelM, riseM), riseM };
  });
  const sloped = kind !== 'track' && legs.every(({ riseM, slopeM }) => Math.abs(riseM) <= STEEPEST * slopeM);
  let alongM = 0;
  const chainagesM = [0];
  for (const { levelM, slopeM } of legs) {
    alongM += sloped ? slopeM : levelM;
    chainagesM.push(roundMm(alongM));
  }
  return { chainagesM };
}
