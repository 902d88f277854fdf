import { geometricFactorM } from './geometric-factor';

/*
 * First-order (dipole) response of bodies in uniform ground under a flat surface.
 *
 * A current I at surface point C drives the field ρ₁I/2π · u_C at depth, u_C = (place − C)/|place − C|³. A small body
 * there answers like a dipole, and by reciprocity R between C and P changes by
 *     δR = ρ₁/4π² · ∫ [Λt (u_C·u_P across) + Λl (u_C·u_P along)] dV,
 * where Λ is the body's answer per volume: for conductivity ratio q = σ₂/σ₁
 *     sphere          Λt = Λl = 3(1 − q)/(2 + q)            (air 3/2)
 *     long cylinder   Λt = 2(1 − q)/(1 + q), Λl = 1 − q     (air 2 and 1)
 * which are the textbook answers of both to an even field (Stratton 1941, Electromagnetic Theory, ch. III-IV); a weak
 * contrast gives Λ = 1 − q for either, as it must. Left out: multipoles above the dipole and the mirror body over the
 * surface acting back on the body.
 */

/** A place in metres in any right-angled frame; all electrodes on one plane, bodies below it. */
export type Place = readonly [xM: number, yM: number, zM: number];

/** Current electrodes A, B and potential electrodes M, N on the surface; null = infinitely far. */
export interface SurfaceElectrodes {
  readonly a: Place;
  readonly b: Place | null;
  readonly m: Place;
  readonly n: Place | null;
}

export interface Sphere {
  readonly centre: Place;
  readonly radiusM: number;
  /** What fills it, Ω·m; Infinity for air. */
  readonly fillOhmM: number;
}

/** A round passage along an axis of straight pieces; its ends are cut off flat. */
export interface Passage {
  /** Two places or more. */
  readonly axis: readonly Place[];
  readonly radiusM: number;
  /** What fills it, Ω·m; Infinity for air. */
  readonly fillOhmM: number;
}

const minus = (p: Place, q: Place): Place => [p[0] - q[0], p[1] - q[1], p[2] - q[2]];
const dot = (p: Place, q: Place): number => p[0] * q[0] + p[1] * q[1] + p[2] * q[2];

/** Distance in metres; Infinity to a remote electrode. */
const distanceM = (p: Place | null, q: Place | null): number => (p && q ? Math.hypot(...minus(p, q)) : Infinity);

/** K in metres of electrodes given by place. */
export function factorOfPlacesM({ a, b, m, n }: SurfaceElectrodes): number {
  return geometricFactorM({
    am: distanceM(a, m),
    an: distanceM(a, n),
    bm: distanceM(b, m),
    bn: distanceM(b, n),
  });
}

/** u(from +) − u(from −) at a place, 1/m²: 2π/(ρ₁I) times the field of a pair of electrodes. */
function pairField(place: Place, plus: Place, minusPlace: Place | null): Place {
  const p = minus(place, plus);
  const inP = 1 / Math.hypot(...p) ** 3;
  if (!minusPlace) return [p[0] * inP, p[1] * inP, p[2] * inP];
  const q = minus(place, minusPlace);
  const inQ = 1 / Math.hypot(...q) ** 3;
  return [p[0] * inP - q[0] * inQ, p[1] * inP - q[1] * inQ, p[2] * inP - q[2] * inQ];
}

/**
 * Relative change ρa/ρ₁ − 1 that a small sphere makes in a four-electrode reading; for pole-pole
 * 2a·(ρ₂ − ρ₁)/(ρ₁ + 2ρ₂)·R³/(d·r)²·cos t, the n = 1 term of the first-order series (d, r = distances from the probes
 * to the centre, t = the angle there). Zero on the half-sphere over the probe pair, opposite in sign inside it.
 * Against the exact air-filled sphere of radius 1 m (multipole collocation with the mirror sphere, computed for this
 * project) ρa/ρ₁ is within 0.006 for a centre 2 m down and 0.008 for 1.5 m.
 */
export function sphereResponse(sphere: Sphere, hostOhmM: number, electrodes: SurfaceElectrodes): number {
  const q = hostOhmM / sphere.fillOhmM;
  const answer = (3 * (1 - q)) / (2 + q);
  const volumeM3 = (4 / 3) * Math.PI * sphere.radiusM ** 3;
  const current = pairField(sphere.centre, electrodes.a, electrodes.b);
  const potential = pairField(sphere.centre, electrodes.m, electrodes.n);
  const change = (answer * volumeM3 * dot(current, potential)) / (4 * Math.PI ** 2);
  return factorOfPlacesM(electrodes) * change;
}

/** Nodes and weights of the four-point Gauss-Legendre rule on −1…1 (Abramowitz & Stegun 1964, table 25.4). */
const GAUSS = [
  [-0.8611363115940526, 0.34785484513745385],
  [-0.33998104358485626, 0.6521451548625461],
  [0.33998104358485626, 0.6521451548625461],
  [0.8611363115940526, 0.34785484513745385],
] as const;

/** Closest that a piece of axis comes to a place, m. */
function clearanceM(place: Place, from: Place, along: Place, lengthM: number): number {
  const off = minus(place, from);
  const t = Math.min(lengthM, Math.max(0, dot(off, along)));
  return Math.hypot(off[0] - t * along[0], off[1] - t * along[1], off[2] - t * along[2]);
}

/**
 * Relative change ρa/ρ₁ − 1 that a passage makes in a four-electrode reading: its axis as a line of dipoles that answer
 * as a long cylinder does, stronger across the axis than along it. Any bearing and dip; the axis stays below the plane
 * of the electrodes.
 * Against the exact air-filled cylinder of radius 1 m square to the line (Fourier along strike, Bessel multipoles,
 * mirror cylinder; computed for this project by two methods) ρa/ρ₁ comes out wrong by, axis 2 m down, midpoint over it:
 * −0.014 at a = 2 m, +0.011 at 4, +0.002 at 8, +0.001 at 20; beside it −0.007 (a = 4, 2.5 m off), −0.004 (a = 8, 5 m
 * off). With the axis 1.5 m down up to −0.05 of a +0.28 high; at 3 m within 0.007: highs are understated.
 * Fill that conducts much better than the host channels current along the passage, which this overstates (water of
 * 30 Ω·m in 500: twice the exact low at a = 2 m). Meant for empty passages and for weak contrasts.
 */
export function passageResponse(passage: Passage, hostOhmM: number, electrodes: SurfaceElectrodes): number {
  const q = hostOhmM / passage.fillOhmM;
  const across = (2 * (1 - q)) / (1 + q);
  const lengthwise = 1 - q;
  const { a, b, m, n } = electrodes;
  const near = [a, b, m, n].filter((place) => place !== null);
  let integral = 0;
  for (const [i, from] of passage.axis.entries()) {
    const to = passage.axis[i + 1];
    if (!to) break;
    const piece = minus(to, from);
    const lengthM = Math.hypot(...piece);
    if (lengthM === 0) continue;
    const along: Place = [piece[0] / lengthM, piece[1] / lengthM, piece[2] / lengthM];
    const closestM = Math.min(...near.map((place) => clearanceM(place, from, along, lengthM)));
    const panels = Math.ceil(lengthM / closestM);
    const halfM = lengthM / panels / 2;
    for (let panel = 0; panel < panels; panel += 1) {
      for (const [node, weight] of GAUSS) {
        const s = halfM * (2 * panel + 1 + node);
        const place: Place = [from[0] + s * along[0], from[1] + s * along[1], from[2] + s * along[2]];
        const current = pairField(place, a, b);
        const potential = pairField(place, m, n);
        const parallel = dot(current, along) * dot(potential, along);
        integral += weight * halfM * (across * (dot(current, potential) - parallel) + lengthwise * parallel);
      }
    }
  }
  const crossSectionM2 = Math.PI * passage.radiusM ** 2;
  return (factorOfPlacesM(electrodes) * crossSectionM2 * integral) / (4 * Math.PI ** 2);
}
