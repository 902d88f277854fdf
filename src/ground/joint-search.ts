import { KINDS, type PreparedLine } from './line-search';
import { TRIED_VOIDS } from './void-table';

/** A line seen from above: corners in a common plane, east and north, m. */
export interface PlanPlace {
  readonly chainageM: number;
  readonly xM: number;
  readonly yM: number;
}

/** Directions of a passage that are tried, degrees apart. */
const DIRECTION_STEP_DEG = 10;
/** A passage is taken to be straight for so far to either side of the line that it was met on, m (choice). */
const STRAIGHT_M = 45;
/** It may leave the straight by so many steps of the search at the other lines (choice: passages wind). */
const WINDING_STEPS = 2;

/** A straight passage: which template it is under each line that it crosses. */
interface Path {
  readonly directionDeg: number;
  readonly legs: readonly {
    readonly line: number;
    readonly place: number;
    readonly kind: number;
    readonly exact: boolean;
  }[];
}

export interface JointFind {
  /** Twice the gain in log likelihood, all lines together. */
  readonly statistic: number;
  /** From north, 0 to 180. */
  readonly directionDeg: number;
  readonly crossings: readonly { readonly line: number; readonly chainageM: number; readonly gain: number }[];
}

/** Several lines searched together for one passage. */
export interface JointSearch {
  /** The best passage for gains of every template of every line, as a scanner gives them. */
  best(gains: readonly Float64Array[]): JointFind | null;
}

/**
 * Paths of straight, level passages that cross two lines or more, each line with the grid of its own templates; all lines
 * must have been prepared with the same bounds, so that depth and size agree.
 */
export function createJointSearch(
  lines: readonly PreparedLine[],
  plans: readonly (readonly PlanPlace[])[],
): JointSearch {
  const depths = lines[0]?.grid.depthsM.length ?? 0;
  const sizes = lines[0]?.grid.shares.length ?? 0;
  const tables = lines.map(indexOf);
  const paths = lines.flatMap((line, l) => pathsFrom(l, line, lines, plans));

  return {
    best(gains) {
      const dilated = lines.map((line, l) => dilate(gains[l] as Float64Array, tables[l] as IndexTable, line));
      let best: JointFind | null = null;
      let most = 0;
      for (const path of paths) {
        for (let cell = 0; cell < depths * sizes; cell += 1) {
          let sum = 0;
          for (const { line, place, kind, exact } of path.legs) {
            const table = tables[line] as IndexTable;
            const at = (kind * table.places + place) * depths * sizes + cell;
            const template = table.index[at] as number;
            if (template < 0) continue;
            const gain = exact ? (gains[line] as Float64Array)[template] : (dilated[line] as Float64Array)[at];
            sum += gain as number;
          }
          if (sum <= most) continue;
          most = sum;
          best = { statistic: sum, directionDeg: path.directionDeg, crossings: crossingsOf(path, cell) };
        }
      }
      return best;

      function crossingsOf(path: Path, cell: number): JointFind['crossings'] {
        return path.legs.map(({ line, place, kind, exact }) => {
          const table = tables[line] as IndexTable;
          const reach = exact ? 0 : WINDING_STEPS;
          let gain = -Infinity;
          let where = place;
          for (let p = Math.max(0, place - reach); p <= Math.min(table.places - 1, place + reach); p += 1) {
            const template = table.index[(kind * table.places + p) * depths * sizes + cell] as number;
            const own = template < 0 ? -Infinity : ((gains[line] as Float64Array)[template] as number);
            if (own <= gain) continue;
            gain = own;
            where = p;
          }
          return { line, chainageM: (lines[line] as PreparedLine).grid.chainagesM[where] as number, gain };
        });
      }
    },
  };
}

/** Where in a line's list a template stands, by kind, place, depth and size; −1 where none is tried. */
interface IndexTable {
  readonly index: Int32Array;
  readonly places: number;
}

function indexOf({ templates, grid }: PreparedLine): IndexTable {
  const places = grid.chainagesM.length;
  const index = new Int32Array(KINDS.length * places * grid.depthsM.length * grid.shares.length).fill(-1);
  const placeOf = new Map(grid.chainagesM.map((chainage, i) => [chainage, i]));
  const depthOf = new Map(grid.depthsM.map((depth, i) => [depth, i]));
  for (const [t, { tried, chainageM, depthM, radiusM }] of templates.list.entries()) {
    const d = depthOf.get(depthM) as number;
    const s = grid.shares.reduce(
      (best, share, i) =>
        Math.abs(share * depthM - radiusM) < Math.abs((grid.shares[best] as number) * depthM - radiusM) ? i : best,
      0,
    );
    const p = placeOf.get(chainageM) as number;
    index[((tried * places + p) * grid.depthsM.length + d) * grid.shares.length + s] = t;
  }
  return { index, places };
}

/** The best within a few steps along the line, laid out as the index is. */
function dilate(gains: Float64Array, { index, places }: IndexTable, { grid }: PreparedLine): Float64Array {
  const cells = grid.depthsM.length * grid.shares.length;
  const wide = new Float64Array(index.length);
  for (let kind = 0; kind < KINDS.length; kind += 1) {
    for (let place = 0; place < places; place += 1) {
      for (let cell = 0; cell < cells; cell += 1) {
        let most = -Infinity;
        for (let p = Math.max(0, place - WINDING_STEPS); p <= Math.min(places - 1, place + WINDING_STEPS); p += 1) {
          const template = index[(kind * places + p) * cells + cell] as number;
          if (template >= 0) most = Math.max(most, gains[template] as number);
        }
        wide[(kind * places + place) * cells + cell] = most;
      }
    }
  }
  return wide;
}

function pathsFrom(
  from: number,
  line: PreparedLine,
  lines: readonly PreparedLine[],
  plans: readonly (readonly PlanPlace[])[],
): Path[] {
  const own = plans[from] as readonly PlanPlace[];
  return line.grid.chainagesM.flatMap((chainageM, place) => {
    const { xM, yM, directionDeg: along } = placeOn(own, chainageM);
    return Array.from({ length: 180 / DIRECTION_STEP_DEG }, (_, i): Path | null => {
      const directionDeg = i * DIRECTION_STEP_DEG;
      const kind = kindAt(angleBetween(directionDeg, along));
      if (kind === null) return null;
      const others = lines.flatMap((other, l) => {
        if (l === from) return [];
        const met = crossing(plans[l] as readonly PlanPlace[], xM, yM, directionDeg);
        if (!met) return [];
        const nearest = nearestPlace(other.grid.chainagesM, met.chainageM);
        const otherKind = kindAt(met.angleDeg);
        return nearest === null || otherKind === null
          ? []
          : [{ line: l, place: nearest, kind: otherKind, exact: false }];
      });
      if (others.length === 0) return null;
      return { directionDeg, legs: [{ line: from, place, kind, exact: true }, ...others] };
    }).filter((path) => path !== null);
  });
}

/** Chainages within half a step of the grid's ends belong to it. */
function nearestPlace(chainages: readonly number[], chainageM: number): number | null {
  const step = chainages.length > 1 ? (chainages[1] as number) - (chainages[0] as number) : 1;
  const at = Math.round((chainageM - (chainages[0] as number)) / step);
  return at >= 0 && at < chainages.length ? at : null;
}

/** Which tried passage is nearest to an angle with the line; null along the line, where a crossing has no place. */
function kindAt(angleDeg: number): number | null {
  let best: number | null = null;
  let nearest = 20;
  for (const [kind, tried] of TRIED_VOIDS.entries()) {
    if (tried.kind !== 'passage' || tried.bearingDeg === 0) continue;
    const apart = Math.abs(tried.bearingDeg - angleDeg);
    if (apart >= nearest) continue;
    nearest = apart;
    best = kind;
  }
  return best;
}

const RADIANS = Math.PI / 180;

/** Angle between two directions, 0 to 90. */
function angleBetween(p: number, q: number): number {
  const apart = Math.abs((((p - q) % 180) + 180) % 180);
  return Math.min(apart, 180 - apart);
}

const directionOf = (dx: number, dy: number): number => (((Math.atan2(dx, dy) / RADIANS) % 180) + 180) % 180;

function placeOn(plan: readonly PlanPlace[], chainageM: number): { xM: number; yM: number; directionDeg: number } {
  let i = 1;
  while (i < plan.length - 1 && (plan[i] as PlanPlace).chainageM < chainageM) i += 1;
  const [p, q] = [plan[i - 1] as PlanPlace, plan[i] as PlanPlace];
  const share = (chainageM - p.chainageM) / (q.chainageM - p.chainageM);
  return {
    xM: p.xM + share * (q.xM - p.xM),
    yM: p.yM + share * (q.yM - p.yM),
    directionDeg: directionOf(q.xM - p.xM, q.yM - p.yM),
  };
}

/** Where a straight way through a point crosses a line, and at what angle. */
function crossing(plan: readonly PlanPlace[], xM: number, yM: number, directionDeg: number) {
  const [ux, uy] = [Math.sin(directionDeg * RADIANS), Math.cos(directionDeg * RADIANS)];
  for (let i = 1; i < plan.length; i += 1) {
    const [p, q] = [plan[i - 1] as PlanPlace, plan[i] as PlanPlace];
    const [vx, vy] = [q.xM - p.xM, q.yM - p.yM];
    const cross = ux * vy - uy * vx;
    if (Math.abs(cross) < 1e-9) continue;
    const [wx, wy] = [p.xM - xM, p.yM - yM];
    const alongWay = (wx * vy - wy * vx) / cross;
    const share = (wx * uy - wy * ux) / cross;
    if (share < 0 || share > 1 || Math.abs(alongWay) > STRAIGHT_M) continue;
    return {
      chainageM: p.chainageM + share * (q.chainageM - p.chainageM),
      angleDeg: angleBetween(directionDeg, directionOf(vx, vy)),
    };
  }
  return null;
}
