import type { Line, LocalGrid, PathItem, Reading } from '../survey/survey';
import { trueBearing } from './bearings';
import { levelled } from './by-bearing';
import { planeConvergenceDeg } from './convergence';
import type { Plane } from './crs';

const RADIANS = Math.PI / 180;

/** A leg of tape and compass in the plane of its line. */
export interface PlaneLeg {
  readonly fromM: number;
  readonly toM: number;
  readonly dx: number;
  readonly dy: number;
  readonly horizontalM: number;
  /** Of what its bearing shares with the others: the declination. Radians. */
  readonly sharedSigma: number;
  /** How far one sight of the compass carries: a leg is walked in sights of its own, a sighted line is one. */
  readonly sightM: number | null;
}

/** The legs of a line, and its points at which it was sighted along. */
export const directionsOf = (line: Line): readonly Extract<PathItem, { kind: 'leg' | 'bearing' }>[] =>
  line.path.flatMap((item) => ((item.kind === 'leg' || item.kind === 'bearing') && !item.retired ? [item] : []));

/** One straight of a line with a bearing: a leg, or one side of a sighted point. */
interface Sight {
  readonly fromM: number;
  readonly toM: number;
  readonly distanceM: number;
  readonly slopeDeg: number | null;
  readonly given: Pick<Extract<PathItem, { kind: 'bearing' }>, 'bearing_deg' | 'bearing_reference' | 'date'>;
  /** Sighted in one go. */
  readonly isOne: boolean;
}

/** A sighted line reaches over what is planned and read on it, this far at least. */
const LEAST_SIGHT_M = 10;

function sightsOf(line: Line, readings: readonly Reading[]): readonly Sight[] {
  const items = directionsOf(line);
  const extent = items.some(({ kind }) => kind === 'bearing') ? extentOf(line, readings) : [0, 0];
  return items
    .flatMap((item): Sight[] => {
      if (item.kind === 'leg') {
        const { from_chainage_m: fromM, distance_m: distanceM, slope_deg: slopeDeg = null } = item;
        return [{ fromM, toM: fromM + distanceM, distanceM, slopeDeg, given: item, isOne: false }];
      }
      const at = item.chainage_m;
      const ends = [extent[0] as number, extent[1] as number].map((end) => end - at);
      const behindM = Math.max(0, -(ends[0] as number));
      const aheadM = Math.max(behindM > 0 ? 0 : LEAST_SIGHT_M, ends[1] as number);
      const side = (fromM: number, toM: number): Sight[] =>
        toM > fromM ? [{ fromM, toM, distanceM: toM - fromM, slopeDeg: null, given: item, isOne: true }] : [];
      return [...side(at - behindM, at), ...side(at, at + aheadM)];
    })
    .sort((p, q) => p.fromM - q.fromM);
}

/** The chainages between which a line is planned or read. */
function extentOf({ layout, path }: Line, readings: readonly Reading[]): readonly [fromM: number, toM: number] {
  const planned = !layout ? [] : 'from_m' in layout ? [layout.from_m, layout.to_m] : layout.chainages_m;
  const read = readings.flatMap(({ midpoint_m: midpointM, spacing_m: spacingM, electrodes }) =>
    electrodes
      ? [electrodes.a_m, electrodes.b_m, electrodes.m_m, electrodes.n_m].flatMap((chainageM) => chainageM ?? [])
      : typeof midpointM === 'number'
        ? [midpointM - (spacingM ?? 0) / 2, midpointM + (spacingM ?? 0) / 2]
        : [],
  );
  const placed = path.flatMap((item) => (item.kind === 'leg' || item.retired ? [] : [item.chainage_m]));
  let [fromM, toM] = [Infinity, -Infinity];
  for (const chainageM of [...planned, ...read, ...placed]) {
    fromM = Math.min(fromM, chainageM);
    toM = Math.max(toM, chainageM);
  }
  return [fromM, toM];
}

/**
 * The legs and sights of a line as vectors, by growing chainage, and a sentence for each that cannot be one (a magnetic
 * bearing without a date, a grid bearing without a grid). `near`: where the line is, for the declination.
 */
export function planeLegs(
  line: Line,
  readings: readonly Reading[],
  plane: Plane,
  near: readonly [x: number, y: number],
  grids: readonly LocalGrid[],
): { readonly legs: readonly PlaneLeg[]; readonly refusals: readonly string[] } {
  const legs: PlaneLeg[] = [];
  const refusals: string[] = [];
  const crs = gridOf(line, grids);
  let [x, y] = near;
  for (const { fromM, toM, distanceM, slopeDeg, given, isOne } of sightsOf(line, readings)) {
    const place = plane.toLonLat(x, y);
    const { bearing_deg: bearingDeg, bearing_reference: reference, date } = given;
    const bearing = trueBearing({ bearingDeg, reference, date, crs }, place, { grids });
    const level = levelled({ distanceM, slopeDeg });
    if (!bearing.ok || !level.ok) {
      const why = !bearing.ok ? bearing.sentence : !level.ok ? level.sentence : '';
      refusals.push(`the ${isOne ? 'bearing' : 'leg'} from ${fromM} m: ${why}`);
      continue;
    }
    const azimuth = (bearing.value.azimuthDeg - planeConvergenceDeg(plane, x, y)) * RADIANS;
    const { horizontalM } = level.value;
    const dx = horizontalM * Math.sin(azimuth);
    const dy = horizontalM * Math.cos(azimuth);
    const sharedSigma = bearing.value.sharedSigmaDeg * RADIANS;
    legs.push({ fromM, toM, dx, dy, horizontalM, sharedSigma, sightM: isOne ? horizontalM : null });
    x += dx;
    y += dy;
  }
  return { legs, refusals };
}

/** Whose north a grid bearing means: the grid that the line's fixes are in, else the only one that the site has. */
function gridOf(line: Line, grids: readonly LocalGrid[]): string | null {
  for (const item of line.path) {
    if (item.kind === 'fix' && !item.retired && item.position.crs !== 'EPSG:4326') return item.position.crs;
  }
  const [only, ...others] = grids;
  return only && others.length === 0 ? `grid:${only.name}` : null;
}
