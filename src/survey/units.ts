/** What a meter may show. Ohm-metre kinds already carry a geometric factor; ohm kinds do not; millivolts need a current. */
export const READING_UNITS = ['ohm_m', 'kohm_m', 'ohm', 'kohm', 'mV'] as const;
export type ReadingUnit = (typeof READING_UNITS)[number];

export const LENGTH_UNITS = ['m', 'km', 'ft', 'us_survey_ft'] as const;
export type LengthUnit = (typeof LENGTH_UNITS)[number];

/** The international foot is exact (1959 agreement); the US survey foot is 1200/3937 m exactly. */
const METRES_PER: Record<LengthUnit, number> = {
  m: 1,
  km: 1000,
  ft: 0.3048,
  us_survey_ft: 1200 / 3937,
};

/** Length in metres of `value` given in `unit`. */
export function toMetres(value: number, unit: LengthUnit): number {
  return value * METRES_PER[unit];
}

/** Whether the shown value is a resistivity (Ω·m, the meter has multiplied by its factor) or a resistance (Ω). */
export function quantityOf(unit: ReadingUnit): 'resistivity' | 'resistance' {
  return unit === 'ohm_m' || unit === 'kohm_m' ? 'resistivity' : 'resistance';
}

/**
 * The shown value in Ω·m or Ω, by its `quantityOf`.
 * Millivolts are divided by the current in milliamperes; null when no usable current is given.
 */
export function toBaseUnit(value: number, unit: ReadingUnit, currentMa?: number | null): number | null {
  switch (unit) {
    case 'ohm_m':
    case 'ohm':
      return value;
    case 'kohm_m':
    case 'kohm':
      return value * 1000;
    case 'mV':
      return currentMa ? value / currentMa : null;
  }
}

/** The unit as a person writes it. */
export const UNIT_LABEL: Record<ReadingUnit, string> = {
  ohm_m: 'Ω·m',
  kohm_m: 'kΩ·m',
  ohm: 'Ω',
  kohm: 'kΩ',
  mV: 'mV',
};
