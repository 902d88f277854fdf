import { describe, expect, it } from 'vitest';
import { expectedAt } from '../../src/app/field/expected';
import { NOTHING_ENTERED, reduceKeypad, typedFigure } from '../../src/app/field/keypad-state';
import { type Expected, nominalFigureOhmM, thousandfoldSlip, unitMeant } from '../../src/app/field/unit-check';
import { demoContent } from './demo-content';

const AT_500: readonly Expected[] = [{ figureOhmM: 500, what: 'reference' }];

describe('a slip of a thousand', () => {
  it('is asked about within half a decade of a thousand times or a thousandth, and not otherwise', () => {
    expect(thousandfoldSlip(500_000, AT_500)).toMatchObject({ factor: 0.001 });
    expect(thousandfoldSlip(0.5, AT_500)).toMatchObject({ factor: 1000 });
    expect(thousandfoldSlip(0.5 * 3, AT_500)).not.toBeNull();
    for (const figure of [500, 50, 5, 5000, 50_000, 150_000, 1.7, 0.05, 5_000_000]) {
      expect(thousandfoldSlip(figure, AT_500)).toBeNull();
    }
    expect(thousandfoldSlip(500_000, [])).toBeNull();
  });

  it('is a matter of the unit where one fits', () => {
    const slip = (factor: 1000 | 0.001) => ({ factor, against: { figureOhmM: 1, what: 'reference' as const } });
    expect(unitMeant('ohm_m', slip(1000))).toBe('kohm_m');
    expect(unitMeant('kohm_m', slip(0.001))).toBe('ohm_m');
    expect(unitMeant('kohm', slip(0.001))).toBe('ohm');
    expect(unitMeant('ohm_m', slip(0.001))).toBeNull();
  });

  it('is set against the figure that ohms come to: 2πaR between two poles, and for two probes', () => {
    // ρa = 2πaR for pole-pole: Telford, Geldart & Sheriff 1990, ch. 8.
    const expected = 2 * Math.PI * 4 * 20;
    expect(nominalFigureOhmM(20, 'ohm', { hookup: 'pole_pole', spacingM: 4 })).toBeCloseTo(expected, 9);
    expect(nominalFigureOhmM(20, 'ohm', { hookup: 'two_probe', spacingM: 4 })).toBeCloseTo(expected, 9);
    expect(nominalFigureOhmM(20, 'ohm', { hookup: 'wenner_alpha', spacingM: 4 })).toBeCloseTo(expected, 9);
    expect(nominalFigureOhmM(0.5, 'kohm_m', { hookup: 'pole_pole', spacingM: 4 })).toBe(500);
    expect(nominalFigureOhmM(0, 'ohm', { hookup: 'pole_pole', spacingM: 4 })).toBeNull();
  });

  it('is seen from the reference and the neighbours of the demo, never from the reading itself', () => {
    const { findings } = demoContent();
    const line = findings.lines.find(({ name }) => name === 'C');
    const finding = line?.midpoints.find(({ spacingM, figureOhmM }) => spacingM === 5 && figureOhmM !== null);
    if (!line || !finding?.figureOhmM) throw new Error('the demo has no such reading');
    const spot = { stationM: finding.chainageM, spacingM: 5 };
    const expected = expectedAt(findings, line.lineId, finding.hookup, spot);
    expect(expected.map(({ what }) => what)).toEqual(['reference', 'neighbours', 'ladder']);
    expect(thousandfoldSlip(finding.figureOhmM, expected)).toBeNull();
    expect(thousandfoldSlip(finding.figureOhmM / 1000, expected)?.factor).toBe(1000);
    const alone = { ...findings, references: [], lines: [{ ...line, midpoints: [finding] }] };
    expect(expectedAt(alone, line.lineId, finding.hookup, spot).filter(({ what }) => what === 'neighbours')).toEqual(
      [],
    );
  });

  it('does not ask about any reading of the demo but those over range', () => {
    const { findings } = demoContent();
    for (const line of findings.lines) {
      for (const { chainageM, spacingM, figureOhmM, hookup } of line.midpoints) {
        if (figureOhmM === null || spacingM === null) continue;
        const expected = expectedAt(findings, line.lineId, hookup, { stationM: chainageM, spacingM });
        expect(thousandfoldSlip(figureOhmM, expected)).toBeNull();
      }
    }
  });
});

describe('the keypad', () => {
  const typed = (keys: string) =>
    [...keys].reduce(
      (state, key) => reduceKeypad(state, { type: 'key', key: (key === '<' ? 'rub_out' : key) as '1' }),
      NOTHING_ENTERED,
    ).typed;

  it('makes numbers of its keys', () => {
    expect(typed('485')).toBe('485');
    expect(typed('.5')).toBe('0.5');
    expect(typed('1.2.3')).toBe('1.23');
    expect(typed('007')).toBe('7');
    expect(typed('12<3')).toBe('13');
    expect(typed('123456789')).toBe('12345678');
    expect([typedFigure(''), typedFigure('0.5'), typedFigure('12.')]).toEqual([null, 0.5, 12]);
  });

  it('forgets what was said of a reading once it is kept, or when another spot is chosen', () => {
    const spot = { stationM: 10, spacingM: 2 };
    let state = reduceKeypad(NOTHING_ENTERED, { type: 'again', spot, wetting: 'water', reDriven: [2] });
    expect(state).toMatchObject({ chosen: spot, wetting: 'water', reDriven: [2] });
    state = reduceKeypad(state, { type: 'choose', spot: { ...spot, stationM: 12 } });
    expect(state).toMatchObject({ wetting: null, reDriven: [] });
    expect(reduceKeypad(state, { type: 'kept' })).toEqual(NOTHING_ENTERED);
  });
});
