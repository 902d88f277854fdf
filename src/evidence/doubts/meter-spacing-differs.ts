import { quantityOf } from '../../survey/units';
import { metres } from '../../survey/wording';
import type { ReadingFigure } from '../figure';
import { doubtAbout, type FindDoubts } from './doubt-context';

/** A setting within a percent of the true spacing changes nothing that a reading could show. */
const TOLERANCE = 0.01;

function differs({ reading, spacingM }: ReadingFigure): boolean {
  const set = reading.meter_spacing_m;
  return Boolean(set) && spacingM !== null && Math.abs((set as number) / spacingM - 1) > TOLERANCE;
}

export const meterSpacingDiffers: FindDoubts = ({ line, figures }) =>
  figures.filter(differs).map(({ reading, spacingM, chainageM }) => {
    const corrected =
      quantityOf(reading.unit) === 'resistivity'
        ? 'The value was turned back into ohms by the setting and then taken at the true spacing.'
        : 'The value is in ohms, which the setting does not touch.';
    return doubtAbout({
      code: 'meter_spacing_differs',
      severity: 'warning',
      line: line.id,
      chainageM,
      spacingM,
      aspect: reading.id,
      sentence: `Line ${line.name}, ${metres(chainageM)} at spacing ${metres(spacingM as number)}: the meter was set to ${metres(reading.meter_spacing_m as number)}. ${corrected}`,
      remedy: 'Look in the notebook which of the two spacings is the true one; correct the other.',
      readings: [reading.id],
    });
  });
