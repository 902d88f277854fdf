import type { MidpointFinding } from '../findings';
import type { Reading } from '../survey/survey';
import { quantityOf, toBaseUnit } from '../survey/units';

/** One of several readings at the same place and spacing. */
export interface RepeatMark {
  readonly figureOhmM: number;
  /** It was over range: the figure is above this. */
  readonly above: boolean;
}

/** Taken alike: then all of them were multiplied by the same factor, whatever that was. */
const manner = ({ unit, outing, meter_spacing_m }: Reading): string =>
  `${quantityOf(unit)}|${outing ?? ''}|${meter_spacing_m ?? ''}`;

const isCounted = ({ status, value }: Reading): boolean => status === 'ok' && value !== null;

/**
 * The single figures (Ω·m) behind a pooled one, in proportion to what the meter showed. Empty for a reading taken
 * once, and for repeats of different days, units or meter settings, whose factors only the pipeline knows.
 * `readings` are those of the finding, in its order. Rejected ones are left out.
 */
export function repeatMarks(
  { figureOhmM, readingCount }: Pick<MidpointFinding, 'figureOhmM' | 'readingCount'>,
  readings: readonly Reading[],
): readonly RepeatMark[] {
  const kept = readings.filter(({ status }) => status !== 'rejected');
  const counted = kept.filter(isCounted);
  if (figureOhmM === null || kept.length < 2 || counted.length !== readingCount) return [];
  if (new Set(kept.map(manner)).size !== 1) return [];
  const centre = pooled(counted.flatMap((reading) => lnShown(reading, reading.value) ?? []));
  if (centre === null) return [];
  return kept.flatMap((reading) => {
    const above = !isCounted(reading);
    const ln = lnShown(reading, above ? (reading.limit ?? null) : reading.value);
    return ln === null ? [] : [{ figureOhmM: figureOhmM * Math.exp(ln - centre), above }];
  });
}

function lnShown({ unit, current_ma }: Reading, value: number | null): number | null {
  const base = value === null ? null : toBaseUnit(value, unit, current_ma ?? null);
  return base === null || base === 0 ? null : Math.log(Math.abs(base));
}

/** As repeats are pooled: the middle of two, the median of more. */
function pooled(values: readonly number[]): number | null {
  const sorted = [...values].sort((p, q) => p - q);
  const upper = sorted[Math.floor(sorted.length / 2)];
  const lower = sorted[Math.floor((sorted.length - 1) / 2)];
  return upper === undefined || lower === undefined ? null : (upper + lower) / 2;
}
