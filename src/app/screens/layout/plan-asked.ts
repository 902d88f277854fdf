import type { PlanStudyQuestion } from '../../../studies/plan-study';
import type { Hookup } from '../../../survey/hookup';
import { done, type Outcome, refuse } from '../../../survey/outcome';
import { typedNumber } from '../../state/typed-value';
import type { Said } from './AskForm';

/** Water in limestone, as on the command line (within the 20 to 100 Ω·m of Reynolds 2011, table 7.1; a choice). */
const WATER_OHM_M = 30;

/** Hookups that a separation factor belongs to. */
export const hasSeparation = (hookup: string): boolean => hookup === 'dipole_dipole' || hookup === 'pole_dipole';

/** What the form of the plan holds, as a question; a refusal names its field. Fields that are not shown are not read. */
export function planAsked(said: Said): Outcome<PlanStudyQuestion> {
  const kind = said('kind') === 'chamber' ? 'chamber' : 'passage';
  const hookup = said('hookup') as Hookup;
  const passage = kind === 'passage';
  const other = said('fill') === 'other';
  const numbers = {
    Radius: typedNumber(said('radius')),
    Depth: typedNumber(said('depth')),
    Scatter: typedNumber(said('scatter')),
    Length: passage ? typedNumber(said('length')) : done(0),
    'Angle to the line': passage ? typedNumber(said('bearing')) : done(90),
    'Resistivity of the fill': other ? typedNumber(said('fill-ohm-m')) : done(0),
    'Resistivity of the ground': typedNumber(said('host')),
    'Separation factor': hasSeparation(hookup) ? typedNumber(said('n')) : done(1),
  };
  for (const [field, number] of Object.entries(numbers)) {
    if (!number.ok) return refuse(number.code, `${field}: ${number.sentence}`);
  }
  const numberOf = (field: keyof typeof numbers): number => {
    const number = numbers[field];
    return number.ok ? number.value : Number.NaN;
  };
  const spacings = typedNumbers(said('spacings'));
  if (!spacings.ok) return refuse(spacings.code, `Spacings: ${spacings.sentence}`);
  const offsets = typedNumbers(said('offsets'));
  if (!offsets.ok) return refuse(offsets.code, `Midpoints: ${offsets.sentence}`);
  const fills: Readonly<Record<string, number>> = { air: Number.POSITIVE_INFINITY, water: WATER_OHM_M };
  return done({
    target: {
      kind,
      radiusM: numberOf('Radius'),
      depthM: numberOf('Depth'),
      lengthM: numberOf('Length'),
      bearingDeg: numberOf('Angle to the line'),
      fillOhmM: fills[said('fill')] ?? numberOf('Resistivity of the fill'),
      hostOhmM: numberOf('Resistivity of the ground'),
    },
    hookup,
    n: numberOf('Separation factor'),
    noise: numberOf('Scatter') / 100,
    spacingsM: spacings.value.length > 0 ? spacings.value : null,
    offsetsM: offsets.value.length > 0 ? offsets.value : [0],
  });
}

/** Numbers divided by spaces or semicolons; a comma before a space divides too, any other may be a decimal one. */
function typedNumbers(text: string): Outcome<readonly number[]> {
  const numbers: number[] = [];
  for (const piece of text.split(/[\s;]+|,(?=\s|$)/).filter((each) => each !== '')) {
    const number = typedNumber(piece);
    if (!number.ok) return refuse(number.code, `${number.sentence} Divide numbers by spaces, such as 2 4 8.`);
    numbers.push(number.value);
  }
  return done(numbers);
}
