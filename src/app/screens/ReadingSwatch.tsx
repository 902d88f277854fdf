import type { MidpointFinding } from '../../findings';
import { rampKey, type Theme } from '../../map/ramp';
import { RampSwatch } from './RampSwatch';

/** The stroke of a reading, as the map draws it. */
export function ReadingSwatch({ finding, theme }: { finding: MidpointFinding; theme: Theme }) {
  const { grade, sign, figureOhmM, doubts, figureKind } = finding;
  const ramp = rampKey({ grade, sign, figure_ohm_m: figureOhmM, doubts: doubts.join(';') });
  return <RampSwatch ramp={ramp} theme={theme} hint={figureKind === 'two_probe'} />;
}
