import type { Hookup } from '../survey/hookup';
import type { Outcome } from '../survey/outcome';
import type { ElectrodeDistances } from './geometric-factor';

/** Chainages in metres of the current electrodes A, B and the potential electrodes M, N; null = remote. */
export interface Layout {
  readonly a: number | null;
  readonly b: number | null;
  readonly m: number | null;
  readonly n: number | null;
}

export interface LayoutRequest {
  readonly hookup: Hookup;
  readonly midpointM: number;
  /** a; AB/2 for Schlumberger; the dipole length for dipole-dipole and pole-dipole. */
  readonly spacingM: number;
  /** Separation factor of dipole-dipole and pole-dipole; 1 when not said. */
  readonly n?: number | null;
  /** MN of a Schlumberger reading; when not said, a tenth of AB/2. */
  readonly innerSpacingM?: number | null;
}

/**
 * Where the electrodes of a reading stand along the line, from its midpoint and spacing.
 * A two-probe reading has its current and potential on the same two rods: A = M and B = N.
 * The midpoint of a pole-dipole reading is half-way between A and the middle of MN (common practice, no source).
 * Refusal: `layout_not_given` for `four_electrode`, whose chainages have to be given one by one.
 */
export function layoutOf(request: LayoutRequest): Outcome<Layout> {
  const { hookup, midpointM: x, spacingM: a } = request;
  const n = request.n ?? 1;
  switch (hookup) {
    case 'two_probe':
    case 'unknown':
      return { ok: true, value: { a: x - a / 2, b: x + a / 2, m: x - a / 2, n: x + a / 2 } };
    case 'pole_pole':
      return { ok: true, value: { a: x - a / 2, b: null, m: x + a / 2, n: null } };
    case 'wenner_alpha':
      return { ok: true, value: { a: x - 1.5 * a, b: x + 1.5 * a, m: x - a / 2, n: x + a / 2 } };
    case 'wenner_beta':
      return { ok: true, value: { a: x - a / 2, b: x - 1.5 * a, m: x + a / 2, n: x + 1.5 * a } };
    case 'wenner_gamma':
      return { ok: true, value: { a: x - 1.5 * a, b: x + a / 2, m: x - a / 2, n: x + 1.5 * a } };
    case 'schlumberger': {
      const half = (request.innerSpacingM ?? a / 10) / 2;
      return { ok: true, value: { a: x - a, b: x + a, m: x - half, n: x + half } };
    }
    case 'dipole_dipole': {
      const half = (n * a) / 2;
      return { ok: true, value: { a: x - half, b: x - half - a, m: x + half, n: x + half + a } };
    }
    case 'pole_dipole': {
      const toCentre = (n + 0.5) * a;
      const from = x - toCentre / 2;
      return { ok: true, value: { a: from, b: null, m: from + n * a, n: from + (n + 1) * a } };
    }
    case 'four_electrode':
      return {
        ok: false,
        code: 'layout_not_given',
        sentence: 'A four-electrode reading needs the chainages of its electrodes: fill a_m, b_m, m_m and n_m.',
      };
  }
}

/** Distances of a layout as its surveyor has it in mind: straight, flat, remotes infinitely far. */
export function nominalDistances({ a, b, m, n }: Layout): ElectrodeDistances {
  return { am: apart(a, m), an: apart(a, n), bm: apart(b, m), bn: apart(b, n) };
}

const apart = (p: number | null, q: number | null): number => (p === null || q === null ? Infinity : Math.abs(p - q));
