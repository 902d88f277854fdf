import type { LineId } from '../survey/ids';
import { done, type Outcome } from '../survey/outcome';
import type { Line, LocalGrid, PathItem, Position } from '../survey/survey';
import { accuracyOf } from './accuracy';
import { type Covariance, circular, scaled, type UncertainPlace } from './covariance';
import { type LonLat, toLonLat } from './crs';
import { azimuthDeg } from './geodesic';
import type { Joined } from './joined';
import { type BasePoint, placeByOffset } from './offset';
import { placeByTwoTapes } from './two-tapes';

/** A place of the line that is known from outside, with a chainage. */
export interface Anchor {
  readonly id: string;
  readonly chainageM: number;
  readonly place: LonLat;
  readonly kind: PathItem['kind'];
  readonly source: string | null;
  readonly elevationM: number | null;
  /** Standard deviation per axis in all, metres. */
  readonly sigmaM: number;
  readonly accuracySaid: boolean;
  /** Error of this one alone. */
  readonly own: Covariance;
  /** Standard deviation per axis of what it shares with others of its group, metres. */
  readonly sharedSigmaM: number;
  /** Device and day: fixes of one group share a bias. */
  readonly group: string;
  /** Whether the line is said to turn here; null = to be found out. */
  readonly corner: boolean | null;
}

/** What a line lies among: the site's grids, and the lines that it may be set out from. */
export interface Surroundings {
  readonly grids: readonly LocalGrid[];
  /** The place of another line; a refusal where it has none. */
  baseOf(line: LineId): Outcome<Joined>;
}

/**
 * A point that two tapes of the line's own points place says nothing that those and the tape do not say, but for the
 * side: it is believed a tenth as much.
 */
const OWN_TAPES_VARIANCE = 100;
/** Half the stretch of a base line over which its direction is taken, metres. */
const DIRECTION_REACH_M = 0.5;

type Placing = Exclude<PathItem, { kind: 'leg' }>;

/** The placed points of a line, and a sentence for each that has no place on the Earth. */
export function anchorsOf(
  line: Line,
  surroundings: Surroundings,
): { readonly anchors: readonly Anchor[]; readonly refusals: readonly string[] } {
  const anchors: Anchor[] = [];
  const refusals: string[] = [];
  for (const item of line.path) {
    if (item.kind === 'leg' || item.retired) continue;
    const anchor = anchorOf(item, line, surroundings);
    if (anchor.ok) anchors.push(anchor.value);
    else refusals.push(item.kind === 'fix' ? anchor.sentence : `the point at ${item.chainage_m} m: ${anchor.sentence}`);
  }
  return { anchors, refusals };
}

function anchorOf(item: Placing, line: Line, surroundings: Surroundings): Outcome<Anchor> {
  switch (item.kind) {
    case 'fix':
      return atPosition(item, item.position, item.corner ?? null, surroundings);
    case 'bearing':
      return atPosition(item, item.position, null, surroundings);
    case 'two_tapes':
      return byTwoTapes(item, line, surroundings);
    case 'offset':
      return besideLine(item, surroundings);
  }
}

function atPosition(
  { id, kind, chainage_m: chainageM }: Placing,
  position: Position,
  corner: boolean | null,
  { grids }: Surroundings,
): Outcome<Anchor> {
  const place = toLonLat(position, grids);
  if (!place.ok) return place;
  const { sigmaM, ownSigmaM, sharedSigmaM, said } = accuracyOf(position);
  return done({
    id,
    chainageM,
    place: place.value,
    kind,
    source: position.source ?? null,
    elevationM: position.elevation_m ?? null,
    sigmaM,
    accuracySaid: said,
    own: circular(ownSigmaM),
    sharedSigmaM,
    group: groupOf(position),
    corner,
  });
}

function byTwoTapes(
  item: Extract<Placing, { kind: 'two_tapes' }>,
  line: Line,
  { grids }: Surroundings,
): Outcome<Anchor> {
  const { first, second, first_distance_m: firstM, second_distance_m: secondM, side } = item;
  const [one, two] = [knownPlace(first, grids), knownPlace(second, grids)];
  if (!one.ok) return one;
  if (!two.ok) return two;
  const placed = placeByTwoTapes(one.value, firstM, two.value, secondM, side);
  if (!placed.ok) return placed;
  const isOwn = (position: Position): boolean =>
    line.path.some(
      (other) =>
        other.kind === 'fix' && !other.retired && other.position.x === position.x && other.position.y === position.y,
    );
  const { lon, lat, covariance } = placed.value;
  const [p, q] = [accuracyOf(first), accuracyOf(second)];
  const own = isOwn(first) && isOwn(second) ? scaled(covariance, OWN_TAPES_VARIANCE) : covariance;
  // What moves both known points alike moves this one with them.
  const sharedSigmaM = Math.max(p.sharedSigmaM, q.sharedSigmaM);
  return done({
    id: item.id,
    chainageM: item.chainage_m,
    place: { lon, lat },
    kind: item.kind,
    source: null,
    elevationM: null,
    sigmaM: Math.sqrt((covariance.xx + covariance.yy) / 2 + sharedSigmaM ** 2),
    accuracySaid: p.said && q.said,
    own,
    sharedSigmaM,
    group: groupOf(p.sharedSigmaM >= q.sharedSigmaM ? first : second),
    corner: true,
  });
}

/** A known point with the error that is its own: what it shares is added to what comes of it. */
function knownPlace(position: Position, grids: readonly LocalGrid[]): Outcome<UncertainPlace> {
  const place = toLonLat(position, grids);
  return place.ok ? done({ ...place.value, covariance: circular(accuracyOf(position).ownSigmaM) }) : place;
}

function besideLine(item: Extract<Placing, { kind: 'offset' }>, { baseOf }: Surroundings): Outcome<Anchor> {
  const base = baseOf(item.base_line);
  if (!base.ok) return base;
  const { lon, lat, covariance } = placeByOffset(
    (chainageM) => basePoint(base.value, chainageM),
    item.base_chainage_m,
    item.offset_right_m,
  );
  return done({
    id: item.id,
    chainageM: item.chainage_m,
    place: { lon, lat },
    kind: item.kind,
    source: null,
    elevationM: base.value.elevationAt(item.base_chainage_m),
    sigmaM: Math.sqrt((covariance.xx + covariance.yy) / 2),
    accuracySaid: true,
    own: circular(0.01),
    // A base line is off as a whole more than in its parts.
    sharedSigmaM: Math.sqrt((covariance.xx + covariance.yy) / 2),
    group: `beside ${item.base_line}`,
    corner: null,
  });
}

function basePoint(base: Joined, chainageM: number): BasePoint {
  const ahead = base.placeAt(chainageM + DIRECTION_REACH_M);
  const behind = base.placeAt(chainageM - DIRECTION_REACH_M);
  return { ...base.placeAt(chainageM), azimuthDeg: azimuthDeg(behind, ahead) };
}

const groupOf = ({ source, device, time }: Position): string =>
  [source ?? '', device ?? '', time?.slice(0, 10) ?? ''].join('|');
