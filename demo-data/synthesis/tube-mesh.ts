/** Metres in a frame of its own: two level axes and the depth below flat ground. */
export type Place3 = readonly [xM: number, yM: number, depthM: number];

/** The closed surface of a body as flat panels. */
export interface PanelMesh {
  readonly count: number;
  /** Four corners of each panel, x y z each, anticlockwise seen from outside; a triangle has its last corner twice. */
  readonly corners: Float64Array;
  /** x y z of the middle of each panel. */
  readonly centres: Float64Array;
  readonly areas: Float64Array;
}

/** How finely a tube is cut: all counts are whole multiples of `cut`, so that meshes of other cuts are one family. */
export interface TubeFineness {
  readonly cut: number;
  /** Where panels are shortest; beyond `EVEN` radii from it they grow. */
  readonly finestAt: Place3;
}

/** For a cut of 1 (choices): sides of the section, steps along the tube in radii, and rings of either end. */
const SIDES = 4;
const STEP = 1.6;
const END_RINGS = 1;
/** Radii around the finest place within which steps are even, and their growth per metre beyond (choices). */
const EVEN = 10;
const GROWTH = 0.3;

const minus = (p: Place3, q: Place3): Place3 => [p[0] - q[0], p[1] - q[1], p[2] - q[2]];
const along = (p: Place3, d: Place3, t: number): Place3 => [p[0] + t * d[0], p[1] + t * d[1], p[2] + t * d[2]];
const dot = (p: Place3, q: Place3): number => p[0] * q[0] + p[1] * q[1] + p[2] * q[2];
const cross = (p: Place3, q: Place3): Place3 => [
  p[1] * q[2] - p[2] * q[1],
  p[2] * q[0] - p[0] * q[2],
  p[0] * q[1] - p[1] * q[0],
];
const unit = (p: Place3): Place3 => along([0, 0, 0], p, 1 / Math.hypot(...p));

/**
 * A round tube along straight pieces of axis, mitred where it bends, with flat ends square to it. Its edges run parallel
 * to the axis from one mitre to the next (two tubes of one radius meet in one ellipse, alike from either side), so every
 * panel is flat. The section is a polygon of the true area.
 */
export function tubeMesh(axis: readonly Place3[], radiusM: number, fineness: TubeFineness): PanelMesh {
  const sides = SIDES * fineness.cut;
  const endRings = END_RINGS * fineness.cut;
  const bearings = axis.slice(1).map((node, i) => unit(minus(node, axis[i] as Place3)));
  const mitres = axis.map((node, i) => {
    const [before, after] = [bearings[i - 1] ?? bearings[i], bearings[i] ?? bearings[i - 1]] as [Place3, Place3];
    return { node, normal: unit(along(before, after, 1)) };
  });

  const [first] = bearings as [Place3];
  const level = unit(cross(first, [0, 0, 1]));
  const up = cross(first, level);
  const turn = (2 * Math.PI) / sides;
  const cornerM = radiusM * Math.sqrt(turn / Math.sin(turn));
  let ring = Array.from({ length: sides }, (_, i): Place3 => {
    const across = along(axis[0] as Place3, level, cornerM * Math.cos(i * turn));
    return along(across, up, cornerM * Math.sin(i * turn));
  });
  const rings: Place3[][] = [ring];
  for (const [i, bearing] of bearings.entries()) {
    const { node, normal } = mitres[i + 1] as (typeof mitres)[number];
    const next = ring.map((p) => along(p, bearing, dot(minus(node, p), normal) / dot(bearing, normal)));
    const from = ring;
    for (const share of cutsBetween(axis[i] as Place3, node, radiusM, fineness)) {
      rings.push(from.map((p, k) => along(p, minus(next[k] as Place3, p), share)));
    }
    ring = next;
  }

  const panels: Place3[][] = [];
  for (const [i, near] of rings.entries()) {
    const far = rings[i + 1];
    if (!far) break;
    for (let k = 0; k < sides; k += 1) {
      const l = (k + 1) % sides;
      panels.push([near[k], near[l], far[l], far[k]] as Place3[]);
    }
  }
  const end = (rim: readonly Place3[], middle: Place3, outwards: boolean): void => {
    const at = (k: number, share: number): Place3 =>
      along(middle, minus(rim[k % sides] as Place3, middle), share / endRings);
    for (let k = 0; k < sides; k += 1) {
      for (let share = 0; share < endRings; share += 1) {
        const panel = [at(k, share), at(k, share + 1), at(k + 1, share + 1)];
        if (share > 0) panel.push(at(k + 1, share));
        panels.push(outwards ? panel : panel.reverse());
      }
    }
  };
  end(rings[0] as Place3[], axis[0] as Place3, false);
  end(ring, axis[axis.length - 1] as Place3, true);
  return packed(panels);
}

/** Shares of a piece of axis at which rings are cut, the last one 1. */
function cutsBetween(from: Place3, to: Place3, radiusM: number, { cut, finestAt }: TubeFineness): number[] {
  const piece = minus(to, from);
  const lengthM = Math.hypot(...piece);
  const stepAt = (share: number): number => {
    const awayM = Math.hypot(...minus(along(from, piece, share), finestAt));
    return STEP * radiusM + GROWTH * Math.max(0, awayM - EVEN * radiusM);
  };
  // Steps are counted grain by grain, then spread so that a whole number of them fits.
  const grains = 400;
  const counted = [0];
  for (let i = 0; i < grains; i += 1) {
    counted.push((counted[i] as number) + lengthM / grains / stepAt((i + 0.5) / grains));
  }
  const whole = counted[grains] as number;
  const steps = cut * Math.max(1, Math.ceil(whole - 1e-9));
  return Array.from({ length: steps }, (_, i) => {
    if (i + 1 === steps) return 1;
    const wanted = ((i + 1) / steps) * whole;
    const above = counted.findIndex((count) => count >= wanted);
    const [low, high] = [counted[above - 1] as number, counted[above] as number];
    return (above - 1 + (wanted - low) / (high - low)) / grains;
  });
}

function packed(panels: readonly (readonly Place3[])[]): PanelMesh {
  const count = panels.length;
  const corners = new Float64Array(12 * count);
  const centres = new Float64Array(3 * count);
  const areas = new Float64Array(count);
  for (const [j, panel] of panels.entries()) {
    const [a, b, c] = panel as [Place3, Place3, Place3];
    const d = panel[3] ?? c;
    corners.set([...a, ...b, ...c, ...d], 12 * j);
    const one = Math.hypot(...cross(minus(b, a), minus(c, a))) / 2;
    const other = Math.hypot(...cross(minus(c, a), minus(d, a))) / 2;
    areas[j] = one + other;
    for (const k of [0, 1, 2] as const) {
      centres[3 * j + k] = (one * (a[k] + b[k] + c[k]) + other * (a[k] + c[k] + d[k])) / 3 / (one + other);
    }
  }
  return { count, corners, centres, areas };
}
