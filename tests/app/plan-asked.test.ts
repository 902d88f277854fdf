import { describe, expect, it } from 'vitest';
import { planAsked } from '../../src/app/screens/layout/plan-asked';

const FORM: Readonly<Record<string, string>> = {
  kind: 'passage',
  hookup: 'pole_pole',
  radius: '1',
  depth: '2',
  scatter: '3',
  fill: 'air',
  host: '500',
  length: '40',
  bearing: '90',
  spacings: '',
  offsets: '0',
};

const asked = (more: Readonly<Record<string, string>> = {}) => planAsked((name) => ({ ...FORM, ...more })[name] ?? '');

describe('the form of a plan', () => {
  it('becomes a question, with the spacings left to the advice where none are given', () => {
    const question = asked();
    expect(question).toMatchObject({
      ok: true,
      value: {
        target: { kind: 'passage', radiusM: 1, depthM: 2, lengthM: 40, bearingDeg: 90, fillOhmM: Infinity },
        n: 1,
        noise: 0.03,
        spacingsM: null,
        offsetsM: [0],
      },
    });
  });

  it('takes lists divided by spaces, with decimal commas and minus signs', () => {
    const question = asked({ spacings: '2 4,5;8', offsets: '-2.5, 0, 2,5' });
    if (!question.ok) throw new Error(question.sentence);
    expect(question.value.spacingsM).toEqual([2, 4.5, 8]);
    expect(question.value.offsetsM).toEqual([-2.5, 0, 2.5]);
  });

  it('asks for spaces where commas alone leave the numbers in doubt', () => {
    const refused = asked({ spacings: '2,4,8' });
    expect(refused.ok).toBe(false);
    if (!refused.ok) expect(refused.sentence).toMatch(/^Spacings: .*Divide numbers by spaces/);
  });

  it('reads only the fields that belong to what is looked for', () => {
    expect(asked({ kind: 'chamber', length: 'x', bearing: '' }).ok).toBe(true);
    expect(asked({ length: 'x' })).toMatchObject({ ok: false, sentence: 'Length: “x” is not a number.' });
    expect(asked({ hookup: 'dipole_dipole', n: '' })).toMatchObject({ ok: false });
    expect(asked({ fill: 'other', 'fill-ohm-m': '12' })).toMatchObject({
      ok: true,
      value: { target: { fillOhmM: 12 } },
    });
  });
});
