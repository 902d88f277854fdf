import { type Layout, nominalDistances } from './layout';

/** The ratios between which every void stays that is no larger and no nearer the surface than `mostOfAVoid` says. */
export interface MostOfAVoid {
  readonly lowestRatio: number;
  readonly highestRatio: number;
}

/** As in the void test: radius up to this, and up to eight tenths of the depth of the axis or centre. */
const LARGEST_RADIUS_M = 5;

/**
 * Spacing over largest radius, lowest and highest ratio. Computed for us: every kind, depth, size and place of
 * `walkVoids` searched, the extreme one computed anew with refined boundary elements and rounded to 0.001 (the test does
 * both again). Smaller spacings have the first row's, since all of their voids are small enough.
 */
const EXTREMES = {
  pole_pole: [
    [0.75, 0.847, 1.994],
    [1, 0.847, 1.953],
    [1.5, 0.847, 1.772],
    [2, 0.847, 1.585],
    [3, 0.847, 1.315],
    [4, 0.847, 1.226],
    [6, 0.865, 1.158],
    [8, 0.893, 1.123],
    [12, 0.925, 1.083],
    [16, 0.942, 1.063],
    [24, 0.96, 1.039],
  ],
  wenner_alpha: [
    [0.75, 0.868, 2.326],
    [1, 0.868, 2.326],
    [1.5, 0.868, 2.228],
    [2, 0.868, 2.006],
    [3, 0.868, 1.638],
    [4, 0.868, 1.471],
    [6, 0.873, 1.269],
    [8, 0.888, 1.173],
    [12, 0.915, 1.11],
    [16, 0.932, 1.083],
    [24, 0.952, 1.051],
  ],
} as const;

/**
 * The lowest and highest ratio to void-free uniform ground that one air-filled void can make of a reading: a round chamber
 * or a round, straight, level passage with its middle anywhere under the line, radius up to 5 m and up to 0.8 of its
 * depth. A few percent of the change are left open by steps of the search and between the rows. Null for arrays other than
 * pole-pole and Wenner, of which nothing is known here.
 */
export function mostOfAVoid(layout: Layout): MostOfAVoid | null {
  const { am, an, bm, bn } = nominalDistances(layout);
  const isPolePole = Number.isFinite(am) && an === Infinity && bm === Infinity && bn === Infinity;
  const isWenner = alike(am, bn) && alike(an, bm) && alike(an, 2 * am);
  if (!isPolePole && !isWenner) return null;
  const rows = EXTREMES[isPolePole ? 'pole_pole' : 'wenner_alpha'];
  const spacings = am / LARGEST_RADIUS_M;
  const [first, last] = [rows[0], rows[rows.length - 1] as (typeof rows)[number]];
  if (spacings <= first[0]) return { lowestRatio: first[1], highestRatio: first[2] };
  if (spacings >= last[0]) {
    // Far electrodes: what a void does to the current of one near it falls with the distance of the other.
    const less = last[0] / spacings;
    return { lowestRatio: 1 + less * (last[1] - 1), highestRatio: 1 + less * (last[2] - 1) };
  }
  const above = rows.findIndex(([at]) => at > spacings);
  const [p, q] = [rows[above - 1] ?? first, rows[above] ?? last];
  const t = Math.log(spacings / p[0]) / Math.log(q[0] / p[0]);
  return { lowestRatio: p[1] + t * (q[1] - p[1]), highestRatio: p[2] + t * (q[2] - p[2]) };
}

const alike = (p: number, q: number): boolean => Math.abs(p - q) < 1e-6 * Math.abs(q);
