import type { CrossingFinding, LineFindings, MidpointFinding, Settings, TrackVertex } from '../findings';

/** A line that ends within so much of another, m, meets it (choice: no tape or fix says less). */
const MEETS_M = 0.02;
/** More than that in degrees, up to 85° of latitude. */
const MEETS_DEG = 2.5e-6;

interface Boxed {
  readonly line: LineFindings;
  readonly corners: readonly LonLatAt[];
  readonly west: number;
  readonly east: number;
  readonly south: number;
  readonly north: number;
  /** Whether it is a line across 180° as seen from the west of it: such lines are there a second time. */
  readonly again: boolean;
}

type LonLatAt = Pick<TrackVertex, 'chainageM' | 'lon' | 'lat'>;

/**
 * Lines compared where they cross or meet: readings of one hookup and spacing, interpolated to the crossing. They agree
 * when they differ by no more standard errors than a grade takes. The ground is not the same to both ways of crossing it,
 * so the errors hold the scatter of quiet stations where a reference told it.
 */
export function crossingsOf(lines: readonly LineFindings[], settings: Settings): readonly CrossingFinding[] {
  const boxes = lines.flatMap(boxed).sort((p, q) => p.west - q.west);
  const found: CrossingFinding[] = [];
  for (let i = 0; i < boxes.length; i += 1) {
    const p = boxes[i] as Boxed;
    for (let k = i + 1; k < boxes.length && (boxes[k] as Boxed).west <= p.east + MEETS_DEG; k += 1) {
      const q = boxes[k] as Boxed;
      if (q.south > p.north + MEETS_DEG || q.north < p.south - MEETS_DEG || (p.again && q.again)) continue;
      for (const chainagesM of crossed(p.corners, q.corners))
        found.push(...compared(p.line, q.line, chainagesM, settings));
    }
  }
  return found;
}

function boxed(line: LineFindings): Boxed[] {
  if (line.midpoints.length === 0) return [];
  const corners = line.track.filter(({ corner }) => corner);
  const lons = corners.map(({ lon }) => lon);
  if (Math.max(...lons) - Math.min(...lons) <= 180) return [boxAround(line, corners, false)];
  // A line across 180° lies beyond it to lines on one side, and before −180° to those on the other.
  return [360, 0].map((east) =>
    boxAround(
      line,
      corners.map(({ chainageM, lon, lat }) => ({ chainageM, lon: lon + (lon < 0 ? east : east - 360), lat })),
      east === 0,
    ),
  );
}

function boxAround(line: LineFindings, corners: readonly LonLatAt[], again: boolean): Boxed {
  const lons = corners.map(({ lon }) => lon);
  const lats = corners.map(({ lat }) => lat);
  const [west, east] = [Math.min(...lons), Math.max(...lons)];
  return { line, corners, west, east, south: Math.min(...lats), north: Math.max(...lats), again };
}

/** Chainages on both lines where they cross. Degrees are as good as metres for that: straights stay straight. */
function crossed(p: readonly LonLatAt[], q: readonly LonLatAt[]): readonly (readonly [number, number])[] {
  const places: (readonly [number, number])[] = [];
  for (let i = 1; i < p.length; i += 1) {
    const [a, b] = [p[i - 1] as LonLatAt, p[i] as LonLatAt];
    for (let k = 1; k < q.length; k += 1) {
      const [c, d] = [q[k - 1] as LonLatAt, q[k] as LonLatAt];
      const [ux, uy, vx, vy] = [b.lon - a.lon, b.lat - a.lat, d.lon - c.lon, d.lat - c.lat];
      const area = ux * vy - uy * vx;
      if (area === 0) continue;
      const [wx, wy] = [c.lon - a.lon, c.lat - a.lat];
      const atP = chainageOn(p, i, (wx * vy - wy * vx) / area);
      const atQ = chainageOn(q, k, (wx * uy - wy * ux) / area);
      if (atP !== null && atQ !== null) places.push([atP, atQ]);
    }
  }
  return places;
}

/** The chainage at a share of the piece before a corner; null where that is off the piece. */
function chainageOn(corners: readonly LonLatAt[], i: number, share: number): number | null {
  const [fromM, toM] = [(corners[i - 1] as LonLatAt).chainageM, (corners[i] as LonLatAt).chainageM];
  const slack = MEETS_M / (toM - fromM);
  const isFirst = i === 1;
  const isLast = i === corners.length - 1;
  // Open at one end, so that a crossing at a corner counts once.
  if (share < (isFirst ? -slack : 0) || (isLast ? share > 1 + slack : share >= 1)) return null;
  return fromM + Math.min(1, Math.max(0, share)) * (toM - fromM);
}

function compared(
  p: LineFindings,
  q: LineFindings,
  [atP, atQ]: readonly [number, number],
  settings: Settings,
): readonly CrossingFinding[] {
  const rowsQ = rowsOf(q);
  return [...rowsOf(p)].flatMap(([key, rowP]) => {
    const rowQ = rowsQ.get(key);
    const here = valueAt(rowP, atP, settings);
    const there = rowQ && valueAt(rowQ, atQ, settings);
    const [first] = rowP;
    if (!here || !there || !first || first.spacingM === null) return [];
    const ln = here.lnFigure - there.lnFigure;
    const standardErrorLn = Math.hypot(here.errorLn, there.errorLn);
    return [
      {
        lines: [p.lineId, q.lineId] as const,
        chainagesM: [atP, atQ] as const,
        spacingM: first.spacingM,
        hookup: first.hookup,
        ratio: Math.exp(ln),
        standardErrorLn,
        agree: Math.abs(ln) <= settings.zThreshold * standardErrorLn,
      },
    ];
  });
}

/** Midpoints with a figure by hookup and layout; their keys end in spacing and variant. */
function rowsOf({ lineId, midpoints }: LineFindings): ReadonlyMap<string, readonly MidpointFinding[]> {
  const rows = new Map<string, MidpointFinding[]>();
  for (const midpoint of midpoints) {
    if (midpoint.figureOhmM === null || midpoint.spacingM === null) continue;
    const own = midpoint.key.slice(lineId.length + 1);
    const key = own.slice(own.indexOf(':') + 1);
    const row = rows.get(key);
    if (row) row.push(midpoint);
    else rows.set(key, [midpoint]);
  }
  return rows;
}

/** The figure at a chainage: between its neighbours, both within a spacing, or a single one within half a spacing. */
function valueAt(
  row: readonly MidpointFinding[],
  chainageM: number,
  settings: Settings,
): { readonly lnFigure: number; readonly errorLn: number } | null {
  let before: MidpointFinding | null = null;
  let after: MidpointFinding | null = null;
  for (const midpoint of row) {
    if (midpoint.chainageM <= chainageM && (!before || midpoint.chainageM > before.chainageM)) before = midpoint;
    if (midpoint.chainageM >= chainageM && (!after || midpoint.chainageM < after.chainageM)) after = midpoint;
  }
  const spacingM = row[0]?.spacingM ?? 0;
  const isWithin = (one: MidpointFinding | null, reachM: number): one is MidpointFinding =>
    one !== null && Math.abs(one.chainageM - chainageM) <= reachM;
  // The median of the site has the scatter of all its ground, beside which any two readings agree.
  const error = (one: MidpointFinding): number =>
    one.ratio !== null && one.ratioStandardError !== null && one.referenceBasis !== 'site_median'
      ? one.ratioStandardError / one.ratio
      : settings.standardErrorFloor;
  const ln = (one: MidpointFinding): number => Math.log(one.figureOhmM as number);
  if (isWithin(before, spacingM) && isWithin(after, spacingM)) {
    const gap = after.chainageM - before.chainageM;
    const t = gap === 0 ? 0 : (chainageM - before.chainageM) / gap;
    return { lnFigure: (1 - t) * ln(before) + t * ln(after), errorLn: Math.max(error(before), error(after)) };
  }
  const near = [before, after].find((one) => isWithin(one, spacingM / 2));
  return near ? { lnFigure: ln(near), errorLn: error(near) } : null;
}
