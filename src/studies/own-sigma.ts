import { medianVariance, sampleSigma } from '../evidence/robust';
import type { MidpointFinding, Settings } from '../findings';
import type { Outing, Reading } from '../survey/survey';
import { quantityOf, toBaseUnit } from '../survey/units';

/**
 * Standard error of ln(figure) of a midpoint by itself: its repeats, the meter's stated error, never under the floor that is
 * set. Repeats count in ohms or ohm-metres, since millivolts differ with the current alone; those that were not shown on
 * one footing tell no scatter.
 */
export function ownSigmaOf(
  midpoint: MidpointFinding,
  readings: ReadonlyMap<string, Reading>,
  outings: ReadonlyMap<string, Outing>,
  settings: Settings,
): number {
  const own = midpoint.readings.flatMap((id) => readings.get(id) ?? []).filter(({ status }) => status === 'ok');
  const stated = own.map(({ outing }) => (outing ? (outings.get(outing)?.meter?.stated_error ?? 0) : 0));
  return Math.max(settings.standardErrorFloor, repeatsLn(own), ...stated);
}

function repeatsLn(own: readonly Reading[]): number {
  const [first] = own;
  if (!first || !own.every((reading) => isOnFootingOf(first, reading))) return 0;
  const values = own.flatMap(({ value, unit, current_ma }) => {
    const size = value === null ? 0 : Math.abs(toBaseUnit(value, unit, current_ma) ?? 0);
    return size > 0 ? [Math.log(size)] : [];
  });
  return values.length > 1 ? sampleSigma(values) * Math.sqrt(medianVariance(values.length)) : 0;
}

const isOnFootingOf = (p: Reading, q: Reading): boolean =>
  quantityOf(p.unit) === quantityOf(q.unit) && (p.meter_spacing_m ?? null) === (q.meter_spacing_m ?? null);
