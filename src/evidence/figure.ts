import { type ElectrodeDistances, geometricFactorM, twoProbeFactorM } from '../ground/geometric-factor';
import { type Layout, layoutOf, nominalDistances } from '../ground/layout';
import type { LonLat } from '../position/crs';
import type { Remotes } from '../position/remotes';
import type { Track } from '../position/track';
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
  /** Ω·m: apparent resistivity, or the two-probe figure 2πaR. Null for a reading that showed no value. */
  readonly figureOhmM: number | null;
  /** For an over-range reading: the figure is above this. */
  readonly aboveOhmM: number | null;
}

export type FigureOutcome = ReadingFigure | { readonly reading: Reading; readonly sentence: string };

export const hookupOf = (reading: Reading, line: Line): Hookup => reading.hookup ?? line.hookup ?? 'unknown';

function layoutFor(reading: Reading, hookup: Hookup, chainageM: number): Layout | string | null {
  const given = reading.electrodes;
  if (given) return { a: given.a_m, b: given.b_m, m: given.m_m, n: given.n_m };
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

function middleOf(reading: Reading): number | null {
  const { electrodes } = reading;
  if (!electrodes) return null;
  const chainages = [electrodes.a_m, electrodes.b_m, electrodes.m_m, electrodes.n_m].filter((c) => c !== null);
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
  return {
    am: distanceBetween(a, m, remotes.a, remotes.m, track),
    an: distanceBetween(a, n, remotes.a, remotes.n, track),
    bm: distanceBetween(b, m, remotes.b, remotes.m, track),
    bn: distanceBetween(b, n, remotes.b, remotes.n, track),
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
  if (spacingM === null || !layout) {
    if (!isResistivity) return 'ohms need a spacing before they can become ohm-metres';
  } else {
    const resistanceOhm = isResistivity
      ? base / Math.abs(meterFactorM(reading, hookup, layout, spacingM, outing))
      : base;
    const factorM = isTwoProbe(hookup)
      ? twoProbeFactorM(spacingM)
      : Math.abs(geometricFactorM(distancesOn(layout, track, remotes)));
    figure = factorM * resistanceOhm;
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
  const chainageM = reading.midpoint_m ?? middleOf(reading) ?? track.ownChainages.get(reading.id) ?? null;
  if (chainageM === null) return { reading, sentence: 'it has neither a midpoint nor electrodes nor a place' };
  const layout = layoutFor(reading, hookup, chainageM);
  if (typeof layout === 'string') return { reading, sentence: layout };
  const spacingM = spacingOf(reading, hookup, layout);
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
  return { reading, hookup, chainageM, spacingM, layout, figureOhmM, aboveOhmM };
}
