import { geometricFactorM, twoProbeFactorM } from '../../ground/geometric-factor';
import { type LayoutRequest, layoutOf, nominalDistances } from '../../ground/layout';
import { isTwoProbe } from '../../survey/hookup';
import { quantityOf, type ReadingUnit, toBaseUnit } from '../../survey/units';

/** A figure that stands this near (in decades) to a thousand times another is asked about. Choice. */
const NEAR_DECADES = 0.5;

/** What a typed value is set against. */
export interface Expected {
  readonly figureOhmM: number;
  readonly what: 'reference' | 'neighbours' | 'ladder';
}

export interface ThousandfoldSlip {
  /** What the typed value has to be multiplied by, if it is a slip. */
  readonly factor: 1000 | 0.001;
  readonly against: Expected;
}

/**
 * Whether a figure (Ω·m) stands about a thousand times above or below what its surroundings let expect: kilo-ohms read as
 * ohms, or the other way. Null where it does not, or where nothing is known to set it against.
 */
export function thousandfoldSlip(figureOhmM: number, expected: readonly Expected[]): ThousandfoldSlip | null {
  for (const against of expected) {
    const decades = Math.log10(figureOhmM / against.figureOhmM);
    if (Math.abs(decades - 3) < NEAR_DECADES) return { factor: 0.001, against };
    if (Math.abs(decades + 3) < NEAR_DECADES) return { factor: 1000, against };
  }
  return null;
}

/**
 * The figure in Ω·m that a shown value comes to on straight, flat ground with its remotes infinitely far.
 * Null for a value that has none: millivolts without their current, 0, or a hookup whose electrodes are given one by one.
 */
export function nominalFigureOhmM(
  value: number,
  unit: ReadingUnit,
  { hookup, spacingM, n, innerSpacingM }: Omit<LayoutRequest, 'midpointM'>,
  currentMa: number | null = null,
): number | null {
  const base = toBaseUnit(value, unit, currentMa);
  if (base === null || base === 0) return null;
  if (quantityOf(unit) === 'resistivity') return Math.abs(base);
  if (isTwoProbe(hookup)) return twoProbeFactorM(spacingM) * Math.abs(base);
  const layout = layoutOf({ hookup, midpointM: 0, spacingM, n: n ?? null, innerSpacingM: innerSpacingM ?? null });
  return layout.ok ? Math.abs(geometricFactorM(nominalDistances(layout.value)) * base) : null;
}

const THOUSAND: Partial<Record<ReadingUnit, ReadingUnit>> = { ohm_m: 'kohm_m', ohm: 'kohm' };

/** The unit in which the typed digits would be right; null where no unit is a thousand times larger or smaller. */
export function unitMeant(unit: ReadingUnit, { factor }: ThousandfoldSlip): ReadingUnit | null {
  if (factor === 1000) return THOUSAND[unit] ?? null;
  return (Object.keys(THOUSAND) as ReadingUnit[]).find((small) => THOUSAND[small] === unit) ?? null;
}
