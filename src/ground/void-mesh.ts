import type { Proportions } from './void-shape';

/*
 * The surface of a void as flat panels, lengths in units of its depth: centre at (0, 0, 1), z down, ground at z = 0.
 * Chambers and passages are alike on both sides of the planes x = 0 and y = 0 of their own frame (x along them), so
 * only the quarter x ≥ 0, y ≥ 0 is kept; the other three are its mirror images. Corners lie on the true surface and are
 * then drawn outwards until the panels hold the true volume.
 */
export interface QuarterMesh {
  /** Panels of the quarter; the whole body has four times as many. */
  readonly count: number;
  /** Four corners of each panel, x y z each, anticlockwise seen from outside; a triangle has its last corner twice. */
  readonly corners: Float64Array;
  /** x y z of the middle of each panel. */
  readonly centres: Float64Array;
  readonly areas: Float64Array;
}

/** How finely a body is cut: all counts are whole multiples of `cut`, so that meshes of other cuts are one family. */
export interface Fineness {
  /** Steps in a right angle, around a chamber or around the section of a passage, for a cut of 1. */
  readonly quarterTurn: number;
  /** Steps of a passage in one depth along it, for a cut of 1; not used for a chamber. */
  readonly axialPerDepth: number;
  /** Depths to either side of the middle of a passage that are cut so; beyond, steps grow. */
  readonly evenDepths: number;
  readonly cut: number;
}

type Corner = readonly [x: number, y: number, z: number];

export function meshOf({ shape }: Proportions, fineness: Fineness): QuarterMesh {
  const panels =
    shape.kind === 'chamber'
      ? chamberPanels(shape.halfAxesM, fineness)
      : passagePanels(shape.lengthM, shape.widthM / 2, shape.heightM / 2, fineness);
  return packed(panels);
}

/** Rings of 0, 1, 2, … n steps a quarter from either pole to the widest ring, triangles between them; 8n² in all. */
function chamberPanels(halfAxes: Corner, { quarterTurn, cut }: Fineness): Corner[][] {
  const n = quarterTurn * cut;
  const at = (ring: number, step: number): Corner => {
    const steps = Math.min(ring, 2 * n - ring);
    const polar = (Math.PI / 2) * (ring / n);
    const azimuth = steps === 0 ? 0 : (Math.PI / 2) * (step / steps);
    const x = step === steps && steps > 0 ? 0 : Math.cos(azimuth);
    return [x * Math.sin(polar), Math.sin(azimuth) * Math.sin(polar), -Math.cos(polar)];
  };
  const panels: [Corner, Corner, Corner][] = [];
  for (let ring = 0; ring < 2 * n; ring += 1) {
    const [narrow, wide] = ring < n ? [ring, ring + 1] : [ring + 1, ring];
    const steps = Math.min(ring, 2 * n - ring - 1);
    for (let step = 0; step <= steps; step += 1) {
      panels.push(outward(at(narrow, step), at(wide, step), at(wide, step + 1)));
      if (step < steps) panels.push(outward(at(narrow, step), at(wide, step + 1), at(narrow, step + 1)));
    }
  }
  let volume = 0;
  for (const [a, b, c] of panels) volume += (4 * dot(a, cross(b, c))) / 6;
  const scale = Math.cbrt((4 * Math.PI) / 3 / volume);
  const [sx, sy, sz] = [scale * halfAxes[0], scale * halfAxes[1], scale * halfAxes[2]];
  return panels.map((panel) => panel.map(([x, y, z]): Corner => [x * sx, y * sy, 1 + z * sz]));
}

/** Flat strips along x around the section, and two flat ends of rings. */
function passagePanels(length: number, halfWidth: number, halfHeight: number, fineness: Fineness): Corner[][] {
  const around = 2 * fineness.quarterTurn * fineness.cut;
  /** A polygon of so many sides in a circle is smaller than it by sin t/t, t = 2π/sides. */
  const turn = Math.PI / around;
  const scale = Math.sqrt(turn / Math.sin(turn));
  const at = (x: number, i: number, share = 1): Corner => {
    const y = i === 0 || i === around ? 0 : Math.sin(i * turn);
    return [x, share * scale * halfWidth * y, 1 - share * scale * halfHeight * Math.cos(i * turn)];
  };
  const axial = axialPlaces(length / 2, fineness);
  const rings = endRings(fineness);
  const panels: Corner[][] = [];
  for (let i = 0; i < around; i += 1) {
    for (const [k, from] of axial.entries()) {
      const to = axial[k + 1];
      if (to !== undefined) panels.push([at(from, i), at(from, i + 1), at(to, i + 1), at(to, i)]);
    }
    for (let ring = 0; ring < rings; ring += 1) {
      const [inner, outer] = [ring / rings, (ring + 1) / rings];
      const panel = [at(length / 2, i, inner), at(length / 2, i, outer), at(length / 2, i + 1, outer)];
      panels.push(ring === 0 ? panel : [...panel, at(length / 2, i + 1, inner)]);
    }
  }
  return panels;
}

/** Growth of the steps of a passage beyond its even part, per depth (choice). */
const GROWTH = 0.3;

/** Half a passage measured so that its steps are even: in depths, but shorter beyond the even part. */
function reachOf(end: number, evenDepths: number): number {
  const beyond = Math.max(0, end - evenDepths);
  return end - beyond + Math.log1p(GROWTH * beyond) / GROWTH;
}

const axialSteps = (end: number, { axialPerDepth, evenDepths, cut }: Fineness): number =>
  cut * Math.max(1, Math.ceil(reachOf(end, evenDepths) * axialPerDepth));

const endRings = ({ quarterTurn, cut }: Fineness): number => cut * Math.max(1, Math.round(quarterTurn / 2));

/** Panels of a whole passage, its length in depths. */
export function passagePanelCount(length: number, fineness: Fineness): number {
  return 8 * fineness.quarterTurn * fineness.cut * (axialSteps(length / 2, fineness) + endRings(fineness));
}

/** Where half a passage is cut, from its middle to its end. */
function axialPlaces(end: number, fineness: Fineness): number[] {
  const { evenDepths } = fineness;
  const reach = reachOf(end, evenDepths);
  const steps = axialSteps(end, fineness);
  return Array.from({ length: steps + 1 }, (_, i) => {
    const u = (reach * i) / steps;
    return u <= evenDepths ? u : evenDepths + Math.expm1(GROWTH * (u - evenDepths)) / GROWTH;
  });
}

const dot = (p: Corner, q: Corner): number => p[0] * q[0] + p[1] * q[1] + p[2] * q[2];
const minus = (p: Corner, q: Corner): Corner => [p[0] - q[0], p[1] - q[1], p[2] - q[2]];
const cross = (p: Corner, q: Corner): Corner => [
  p[1] * q[2] - p[2] * q[1],
  p[2] * q[0] - p[0] * q[2],
  p[0] * q[1] - p[1] * q[0],
];

/** A triangle of a body around the origin, turned so that its normal points away from it. */
const outward = (a: Corner, b: Corner, c: Corner): [Corner, Corner, Corner] =>
  dot(a, cross(b, c)) > 0 ? [a, b, c] : [a, c, b];

function packed(panels: readonly (readonly Corner[])[]): QuarterMesh {
  const count = panels.length;
  const corners = new Float64Array(12 * count);
  const centres = new Float64Array(3 * count);
  const areas = new Float64Array(count);
  for (const [j, panel] of panels.entries()) {
    const [a, b, c] = panel as [Corner, Corner, Corner];
    const d = panel[3] ?? c;
    corners.set([...a, ...b, ...c, ...d], 12 * j);
    const first = Math.hypot(...cross(minus(b, a), minus(c, a))) / 2;
    const second = Math.hypot(...cross(minus(c, a), minus(d, a))) / 2;
    areas[j] = first + second;
    for (const k of [0, 1, 2] as const) {
      const middle = first * (a[k] + b[k] + c[k]) + second * (a[k] + c[k] + d[k]);
      centres[3 * j + k] = middle / 3 / (first + second);
    }
  }
  return { count, corners, centres, areas };
}
