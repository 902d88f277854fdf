import { type Electrode, type Electrodes, factorOfElectrodesM, PAIRS, ROLES, type Role } from './electrode-geometry';

/** How ln K answers to one electrode: derivatives by its x, y, z and by its depth, 1/m. */
export interface ElectrodeSlope {
  readonly x: number;
  readonly y: number;
  readonly z: number;
  readonly depth: number;
}

export type FactorJacobian = Readonly<Record<Role, ElectrodeSlope>>;

/** Standard errors of an electrode's place in metres, one for each axis. */
export interface PlaceSigma {
  readonly x: number;
  readonly y: number;
  readonly z: number;
  readonly depth: number;
}

/**
 * Derivatives of ln K by the place and depth of every electrode, from
 * d ln K = −d(Σ ±(1/r + 1/r′)) / Σ ±(1/r + 1/r′). Zeros for electrodes infinitely far; not finite where K is infinite.
 */
export function factorJacobian(electrodes: Electrodes): FactorJacobian {
  const slopes = Object.fromEntries(ROLES.map((role) => [role, { x: 0, y: 0, z: 0, depth: 0 }])) as Record<
    Role,
    { x: number; y: number; z: number; depth: number }
  >;
  const scale = -factorOfElectrodesM(electrodes) / (4 * Math.PI);
  for (const [current, potential, sign] of PAIRS) {
    const p = electrodes[current];
    const q = electrodes[potential];
    if (!p || !q) continue;
    const { along, depthP, depthQ } = nearnessSlope(p, q);
    const [dx, dy, dz] = [0, 1, 2].map((axis) => (p.place[axis] as number) - (q.place[axis] as number)) as [
      number,
      number,
      number,
    ];
    const share = scale * sign;
    for (const [role, side] of [
      [current, 1],
      [potential, -1],
    ] as const) {
      slopes[role].x += share * side * along * dx;
      slopes[role].y += share * side * along * dy;
      slopes[role].z += share * side * along * dz;
    }
    slopes[current].depth += share * depthP;
    slopes[potential].depth += share * depthQ;
  }
  return slopes;
}

/** Of 1/r + 1/r′: (1/s)·d/ds, and the derivatives by both depths. */
function nearnessSlope(p: Electrode, q: Electrode) {
  const apart = Math.hypot(p.place[0] - q.place[0], p.place[1] - q.place[1], p.place[2] - q.place[2]);
  const less = p.depthM - q.depthM;
  const more = p.depthM + q.depthM;
  const straight = -1 / Math.hypot(apart, less) ** 3;
  const image = -1 / Math.hypot(apart, more) ** 3;
  return {
    along: straight + image,
    depthP: straight * less + image * more,
    depthQ: -straight * less + image * more,
  };
}

/**
 * Relative standard error of K, 0.02 for 2 %, from standard errors of the electrodes that are independent of each
 * other: √Σ (∂ ln K/∂p · σ_p)², first order. Where two electrodes share an error (the same start of the tape) that part
 * moves both and cancels; it is not meant here.
 */
export function relativeFactorSigma(electrodes: Electrodes, sigmas: Readonly<Record<Role, PlaceSigma>>): number {
  const jacobian = factorJacobian(electrodes);
  let sum = 0;
  for (const role of ROLES) {
    const slope = jacobian[role];
    const sigma = sigmas[role];
    sum +=
      (slope.x * sigma.x) ** 2 + (slope.y * sigma.y) ** 2 + (slope.z * sigma.z) ** 2 + (slope.depth * sigma.depth) ** 2;
  }
  return Math.sqrt(sum);
}

/**
 * How wrong an apparent resistivity is, −0.05 for 5 % low, when it was worked out with the K of electrodes where they
 * were meant to be while they really stood elsewhere: K(meant)/K(true) − 1, in uniform ground. For a pole-pole or Wenner
 * spacing taped e too long, a/(a + e) − 1.
 */
export function mistapedError(meant: Electrodes, really: Electrodes): number {
  return factorOfElectrodesM(meant) / factorOfElectrodesM(really) - 1;
}
