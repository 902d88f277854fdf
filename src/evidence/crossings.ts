import type { CrossingFinding, LineFindings, MidpointFinding, Settings, TrackVertex } from '../findings';

interface Boxed {
  readonly line: LineFindings;
  readonly corners: readonly TrackVertex[];
  readonly west: number;
  readonly east: number;
  readonly south: number;
  readonly north: number;
}

/**
 * Lines compared where they cross: readings of one hookup and spacing, interpolated to the crossing. They agree when
 * they differ by no more standard errors than a grade takes. The ground is not the same to both ways of crossing it, so
 * the errors hold the scatter of quiet stations where a reference told it.
 */
export function crossingsOf(lines: readonly LineFindings[], settings: Settings): readonly CrossingFinding[] {
  const boxes = lines.flatMap((line) => boxed(line) ?? []).sort((p, q) => p.west - q.west);
  const found: CrossingFinding[] = [];
  for (let i = 0; i < boxes.length; i += 1) {
    const p = boxes[i] as Boxed;
    for (let k = i + 1; k < boxes.length && (boxes[k] as Boxed).west <= p.east; k += 1) {
      const q = boxes[k] as Boxed;
      if (q.south > p.north || q.north < p.south) continue;
      for (const chainagesM of crossed(p.corners, q.corners))
        found.push(...compared(p.line, q.line, chainagesM, settings));
    }
  }
  return found;
}

function boxed(line: LineFindings): Boxed | null {
  if (line.midpoints.length === 0) return null;
  const corners = line.track.filter(({ corner }) => corner);
  const lons = corners.map(({ lon }) => lon);
  const lats = corners.map(({ lat }) => lat);
  const [west, east] = [Math.min(...lons), Math.max(...lons)];
  // A line across 180° would have the whole Earth for its box.
  return east - west > 180 ? null : { line, corners, west, east, south: Math.min(...lats), north: Math.max(...lats) };
}

/** Chainages on both lines where they cross. Degrees are as good as metres for that: straights stay straight. */
function crossed(p: readonly TrackVertex[], q: readonly TrackVertex[]): readonly (readonly [number, number])[] {
  const places: (readonly [number, number])[] = [];
  for (let i = 1; i < p.length; i += 1) {
    const [a, b] = [p[i - 1] as TrackVertex, p[i] as TrackVertex];
    for (let k = 1; k < q.length; k += 1) {
      const [c, d] = [q[k - 1] as TrackVertex, q[k] as TrackVertex];
      const [ux, uy, vx, vy] = [b.lon - a.lon, b.lat - a.lat, d.lon - c.lon, d.lat - c.lat];
      const area = ux * vy - uy * vx;
      if (area === 0) continue;
      const [wx, wy] = [c.lon - a.lon, c.lat - a.lat];
      const s = (wx * vy - wy * vx) / area;
      const t = (wx * uy - wy * ux) / area;
      // Open at one end, so that a crossing at a corner counts once.
      const isOn = (share: number, isLast: boolean) => share >= 0 && (isLast ? share <= 1 : share < 1);
      if (!isOn(s, i === p.length - 1) || !isOn(t, k === q.length - 1)) continue;
      places.push([a.chainageM + s * (b.chainageM - a.chainageM), c.chainageM + t * (d.chainageM - c.chainageM)]);
    }
  }
  return places;
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
  const error = (one: MidpointFinding): number =>
    one.ratio !== null && one.ratioStandardError !== null
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
