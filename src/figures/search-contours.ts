/** The smallest passage across the line that would have been found at a place; null = none of those that were tried. */
export interface DrawnFindable {
  readonly chainageM: number;
  readonly depthM: number;
  readonly radiusM: number | null;
}

/** Radii that a contour is drawn for: the round ones where they are enough. */
const RADII_M = [0.25, 0.5, 0.75, 1, 1.5, 2, 3, 4, 6, 8, 12] as const;
const ROUND_RADII_M: readonly number[] = [0.25, 0.5, 1, 2, 4, 8];
const FEWEST_CONTOURS = 3;
const MOST_CONTOURS = 4;

export interface ContourPoint {
  readonly chainageM: number;
  readonly depthM: number;
}

/** Down to where a void of one radius would have shown, stretch by stretch of line. */
export interface Contour {
  readonly radiusM: number;
  readonly stretches: readonly (readonly ContourPoint[])[];
}

/** Contours of a few round radii, the largest void first. */
export function contoursOf(findable: readonly DrawnFindable[]): readonly Contour[] {
  const columns = columnsOf(findable);
  const radii = findable.flatMap(({ radiusM }) => (radiusM === null ? [] : [radiusM]));
  if (radii.length === 0) return [];
  const [least, most] = [Math.min(...radii), Math.max(...radii)];
  const largest = RADII_M.find((radius) => radius >= most) ?? RADII_M[RADII_M.length - 1] ?? most;
  const inside = RADII_M.filter((radius) => radius >= least && radius <= largest);
  const round = inside.filter((radius) => ROUND_RADII_M.includes(radius));
  const chosen = round.length >= FEWEST_CONTOURS ? round : inside;
  const every = Math.max(1, Math.ceil(chosen.length / MOST_CONTOURS));
  return [...chosen]
    .reverse()
    .filter((_, i) => i % every === 0)
    .map((radiusM) => ({ radiusM, stretches: stretchesOf(columns, radiusM) }))
    .filter(({ stretches }) => stretches.length > 0);
}

/** By chainage; each column from the top down. */
function columnsOf(findable: readonly DrawnFindable[]): readonly (readonly DrawnFindable[])[] {
  const columns = new Map<number, DrawnFindable[]>();
  for (const place of findable) {
    const column = columns.get(place.chainageM);
    if (column) column.push(place);
    else columns.set(place.chainageM, [place]);
  }
  return [...columns.entries()]
    .sort(([p], [q]) => p - q)
    .map(([, column]) => [...column].sort((p, q) => p.depthM - q.depthM));
}

function stretchesOf(columns: readonly (readonly DrawnFindable[])[], radiusM: number): ContourPoint[][] {
  const stretches: ContourPoint[][] = [];
  let open: ContourPoint[] | null = null;
  for (const column of columns) {
    const depthM = deepestFor(column, radiusM);
    if (depthM === null) {
      open = null;
      continue;
    }
    if (!open) {
      open = [];
      stretches.push(open);
    }
    open.push({ chainageM: column[0]?.chainageM ?? 0, depthM });
  }
  return stretches;
}

/** How deep a void of a radius would still have shown in one column; null where it would nowhere. */
function deepestFor(column: readonly DrawnFindable[], radiusM: number): number | null {
  const last = column.findLastIndex((place) => place.radiusM !== null && place.radiusM <= radiusM);
  const [here, next] = [column[last], column[last + 1]];
  if (!here || here.radiusM === null) return null;
  if (!next || next.radiusM === null) return here.depthM;
  const t = (radiusM - here.radiusM) / (next.radiusM - here.radiusM);
  return here.depthM + t * (next.depthM - here.depthM);
}
