import { type ElectrodeDistances, geometricFactorM, twoProbeFactorM } from '../ground/geometric-factor';
import { type Layout, layoutOf, nominalDistances } from '../ground/layout';
import type { LonLat } from '../position/crs';
import type { Remotes } from '../position/remotes';
import { FARTHEST_M, type Track } from '../position/track';
import { type Hookup, isTwoProbe } from '../survey/hookup';
import type { Line, Outing, Reading } from '../survey/survey';
import { quantityOf, toBaseUnit } from '../survey/units';

/** What one reading comes to, before it is compared with anything. */
export interface ReadingFigure {
  readonly reading: Reading;
  readonly hookup: Hookup;
  readonly chainageM: number;
  readonly spacingM: number | null;
  readonly layout: Layout | null;
  /** What sets its layout apart from others of its hookup and spacing; '' where these say all. */
  readonly variant: string;
  /** Its day's work, where that is known. */
  readonly outing: Outing | null;
  /** Ω·m: apparent resistivity, or the two-probe figure 2πaR. Null for a reading that showed no value. */
  readonly figureOhmM: number | null;
  /** For an over-range reading: the figure is above this. */
  readonly aboveOhmM: number | null;
}

export type FigureOutcome = ReadingFigure | { readonly reading: Reading; readonly sentence: string };

export const hookupOf = (reading: Reading, line: Line): Hookup => reading.hookup ?? line.hookup ?? 'unknown';

function layoutFor(reading: Reading, hookup: Hookup, chainageM: number): Layout | string | null {
  const given = reading.electrodes;
  if (given) return canonical({ a: given.a_m, b: given.b_m, m: given.m_m, n: given.n_m }, hookup);
  if (!reading.spacing_m) return null;
  const layout = layoutOf({
    hookup,
    midpointM: chainageM,
    spacingM: reading.spacing_m,
    n: reading.n ?? null,
    innerSpacingM: reading.inner_spacing_m ?? null,
  });
  return layout.ok ? layout.value : layout.sentence;
}

/**
 * One way of writing a layout that can be written in several: a pole-pole reading has its line electrodes as A and M
 * whatever they were called, and a two-probe reading its rods as A = M and B = N.
 */
function canonical(layout: Layout, hookup: Hookup): Layout {
  const { a, b, m, n } = layout;
  if (hookup === 'pole_pole' && (a === null) !== (b === null) && (m === null) !== (n === null)) {
    return { a: a ?? b, b: null, m: m ?? n, n: null };
  }
  if (isTwoProbe(hookup)) {
    const [first, second, ...others] = [...new Set([a, b, m, n].filter((chainage) => chainage !== null))];
    if (first !== undefined && second !== undefined && others.length === 0) {
      return { a: first, b: second, m: first, n: second };
    }
  }
  return layout;
}

/** What hookup and spacing leave open: the separation of dipoles, MN of a Schlumberger reading, any four electrodes. */
function variantOf(hookup: Hookup, layout: Layout | null, spacingM: number | null): string {
  if (!layout || spacingM === null) return '';
  const { a, b, m, n } = layout;
  switch (hookup) {
    case 'dipole_dipole':
    case 'pole_dipole': {
      const gaps = [apart(a, m), apart(a, n), apart(b, m), apart(b, n)].filter((gap) => gap !== null);
      return `n${Math.round((100 * Math.min(...gaps)) / spacingM) / 100}`;
    }
    case 'schlumberger':
      return `mn${Math.round(1000 * (apart(m, n) ?? 0))}`;
    case 'four_electrode': {
      const middle = middleOf(layout) ?? 0;
      const pairs = [
        [a, b],
        [m, n],
      ].map((pair) => pair.map((c) => (c === null ? 'far' : String(Math.round(1000 * (c - middle))))).sort());
      return pairs
        .map((pair) => pair.join('/'))
        .sort()
        .join('|');
    }
    default:
      return '';
  }
}

function middleOf({ a, b, m, n }: Layout): number | null {
  const chainages = [a, b, m, n].filter((c) => c !== null);
  return chainages.length > 0 ? (Math.min(...chainages) + Math.max(...chainages)) / 2 : null;
}

/** The spacing in its hookup's own sense, of electrodes given one by one. */
function spacingOf(reading: Reading, hookup: Hookup, layout: Layout | null): number | null {
  if (reading.spacing_m) return reading.spacing_m;
  if (!layout) return null;
  const { a, b, m, n } = layout;
  switch (hookup) {
    case 'schlumberger': {
      const ab = apart(a, b);
      return ab === null ? null : ab / 2;
    }
    case 'dipole_dipole':
    case 'two_probe':
    case 'unknown':
      return apart(a, b) ?? apart(a, m);
    case 'pole_dipole':
      return apart(m, n);
    default:
      return apart(a, m) ?? apart(a, b);
  }
}

const apart = (p: number | null, q: number | null): number | null =>
  p === null || q === null || p === q ? null : Math.abs(p - q);

function distancesOn({ a, b, m, n }: Layout, track: Track, remotes: Remotes): ElectrodeDistances {
  // A day whose only current remote was called A means that one, whichever letter the layout has free.
  const farA = remotes.a ?? remotes.b;
  const farB = remotes.b ?? remotes.a;
  const farM = remotes.m ?? remotes.n;
  const farN = remotes.n ?? remotes.m;
  return {
    am: distanceBetween(a, m, farA, farM, track),
    an: distanceBetween(a, n, farA, farN, track),
    bm: distanceBetween(b, m, farB, farM, track),
    bn: distanceBetween(b, n, farB, farN, track),
  };
}

/** Between two electrodes by chainage; null = the remote at its place, or infinitely far where that was not said. */
function distanceBetween(
  p: number | null,
  q: number | null,
  remoteP: LonLat | null,
  remoteQ: LonLat | null,
  track: Track,
): number {
  if (p !== null && q !== null) return track.distanceM(p, q);
  if (p !== null) return remoteQ ? track.distanceToM(p, remoteQ) : Infinity;
  if (q !== null) return remoteP ? track.distanceToM(q, remoteP) : Infinity;
  if (!remoteP || !remoteQ) return Infinity;
  const [px, py] = track.plane.toPlane(remoteP.lon, remoteP.lat);
  const [qx, qy] = track.plane.toPlane(remoteQ.lon, remoteQ.lat);
  return Math.hypot(qx - px, qy - py);
}

/** The factor that the meter multiplied by to show ohm-metres, from the spacing that it was set to. */
function meterFactorM(
  reading: Reading,
  hookup: Hookup,
  layout: Layout,
  spacingM: number,
  outing: Outing | null,
): number {
  const setM = reading.meter_spacing_m ?? spacingM;
  if (isTwoProbe(hookup) || outing?.meter?.formula === 'two_pi_a') return twoProbeFactorM(setM);
  if (setM === spacingM) return geometricFactorM(nominalDistances(layout));
  const asSet = layoutOf({
    hookup,
    midpointM: 0,
    spacingM: setM,
    n: reading.n ?? null,
    innerSpacingM: reading.inner_spacing_m ?? null,
  });
  return asSet.ok ? geometricFactorM(nominalDistances(asSet.value)) : twoProbeFactorM(setM);
}

/** The standing of a reading: all that turns what the meter showed into a figure. */
interface Standing {
  readonly reading: Reading;
  readonly hookup: Hookup;
  readonly spacingM: number | null;
  readonly layout: Layout | null;
  readonly track: Track;
  readonly outing: Outing | null;
  readonly remotes: Remotes;
}

/** Ω·m of a shown value, or the reason why there is none. */
function figureFrom(
  shown: number,
  { reading, hookup, spacingM, layout, track, outing, remotes }: Standing,
): number | string {
  const base = toBaseUnit(shown, reading.unit, reading.current_ma);
  if (base === null) return 'millivolts need the current in milliamperes (current_ma)';
  const isResistivity = quantityOf(reading.unit) === 'resistivity';
  let figure = base;
  let sign = 1;
  if (spacingM === null || !layout) {
    if (!isResistivity) return 'ohms need a spacing before they can become ohm-metres';
  } else {
    const resistanceOhm = isResistivity
      ? base / Math.abs(meterFactorM(reading, hookup, layout, spacingM, outing))
      : base;
    const factorM = isTwoProbe(hookup)
      ? twoProbeFactorM(spacingM)
      : geometricFactorM(distancesOn(layout, track, remotes));
    // Some layouts read negative in A B M N order; a meter may show that or leave the sign away.
    if (!isResistivity && factorM < 0 && base < 0) sign = -1;
    figure = Math.abs(factorM) * resistanceOhm * sign;
  }
  if (!Number.isFinite(figure)) return 'its electrodes stand where they cannot measure anything';
  return figure > 0 ? figure : `it showed ${shown}, and a figure has to be above 0 to be compared`;
}

/**
 * The figure of one reading on a placed line.
 * A meter that shows ohm-metres has multiplied by the factor of its setting: that is undone first, R = shown / K(setting),
 * and then K of the true electrode places is applied. A two-probe reading gets 2πa·R, which is not a resistivity.
 * Without a spacing, a shown resistivity is taken as it stands.
 */
export function figureOf(
  reading: Reading,
  line: Line,
  track: Track,
  outing: Outing | null,
  remotes: Remotes,
): FigureOutcome {
  const hookup = hookupOf(reading, line);
  const given = reading.electrodes;
  const chainageM =
    track.ownChainages.get(reading.id) ??
    reading.midpoint_m ??
    (given ? middleOf({ a: given.a_m, b: given.b_m, m: given.m_m, n: given.n_m }) : null);
  if (chainageM === null) return { reading, sentence: 'it has neither a midpoint nor electrodes nor a place' };
  if (chainageM < track.fromM - FARTHEST_M || chainageM > track.toM + FARTHEST_M) {
    return { reading, sentence: `its chainage of ${chainageM} m lies more than 5 km beyond the line` };
  }
  const layout = layoutFor(reading, hookup, chainageM);
  if (typeof layout === 'string') return { reading, sentence: layout };
  const spacingM = spacingOf(reading, hookup, layout);
  if ((spacingM ?? 0) > FARTHEST_M) return { reading, sentence: `its spacing of ${spacingM} m is more than 5 km` };
  let figureOhmM: number | null = null;
  let aboveOhmM: number | null = null;
  const standing = { reading, hookup, spacingM, layout, track, outing, remotes };
  if (reading.status === 'ok' && reading.value !== null) {
    const figure = figureFrom(reading.value, standing);
    if (typeof figure === 'string') return { reading, sentence: figure };
    figureOhmM = figure;
  } else if (reading.status === 'over_range' && reading.limit) {
    const above = figureFrom(reading.limit, standing);
    aboveOhmM = typeof above === 'number' ? above : null;
  }
  const variant = variantOf(hookup, layout, spacingM);
  return { reading, hookup, chainageM, spacingM, layout, variant, outing, figureOhmM, aboveOhmM };
}
